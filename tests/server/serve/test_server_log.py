"""The server's log stays bounded, whoever causes however many errors."""

from __future__ import annotations

import logging
import os
from multiprocessing import get_context

import pytest
from flask import Flask

from witnessmark.operate.server_log import LOG_BYTES, LOG_FILES, ServerLog, SourceHandler


class Clock:
    now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def log():
    """A logger of the test's own; what it wrote, its clock."""
    written, clock = [], Clock()
    handler = SourceHandler(lambda data: written.append(data.decode()), lines=5, clock=clock)
    logger = logging.Logger("room")
    logger.addHandler(handler)
    logger.written, logger.clock, logger.handler = written, clock, handler
    return logger


def from_address(log, address: str, count: int, **more) -> None:
    with Flask("x").test_request_context(environ_base={"REMOTE_ADDR": address}):
        for number in range(count):
            log.error("error %d of %s", number, address, **more)


def test_one_address_is_cut_off_and_others_are_not(log):
    from_address(log, "10.0.0.66", 50)
    from_address(log, "10.0.0.7", 2)
    log.error("by itself")

    assert sum("of 10.0.0.66" in line for line in log.written) == 5
    assert sum("of 10.0.0.7" in line for line in log.written) == 2
    assert log.written[-1].endswith("ERROR room: by itself\n")


def test_after_the_minute_one_line_says_how_many_were_left_out(log):
    from_address(log, "10.0.0.66", 50)
    log.clock.now += 61
    from_address(log, "10.0.0.66", 1)

    assert log.written[5].endswith(" 45 more lines from 10.0.0.66 were left out within a minute.\n")
    assert log.written[6].endswith("error 0 of 10.0.0.66\n") and len(log.written) == 7


def test_it_is_said_too_when_nothing_more_is_logged(log):
    from_address(log, "10.0.0.66", 6)
    log.clock.now += 61
    log.handler._at_the_end()

    assert log.written[-1].endswith(" 1 more line from 10.0.0.66 was left out within a minute.\n")


def test_a_stack_of_calls_counts_by_its_lines(log):
    try:
        raise OSError("a plain reason")
    except OSError:
        from_address(log, "10.0.0.66", 10, exc_info=True)

    assert len(log.written) <= 2
    assert log.written[0].count("\n") >= 4


def test_many_addresses_are_counted_as_one_in_the_end(log, monkeypatch):
    monkeypatch.setattr("witnessmark.operate.server_log.SOURCES", 10)
    for number in range(50):
        from_address(log, f"10.0.1.{number}", 1)

    assert len(log.written) == 10 + 5


def test_its_files_are_a_fixed_number_of_a_fixed_size(tmp_path):
    log = ServerLog(tmp_path, most=1000, files=3)
    for number in range(500):
        log.write(b"line %03d\n" % number)
    log.close()
    names = ["server.log.2", "server.log.1", "server.log"]
    text = "".join((tmp_path / name).read_text() for name in names)

    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(names)
    assert all((tmp_path / name).stat().st_size <= 1000 for name in names)
    assert text.splitlines() == [f"line {number:03d}" for number in range(500)][-len(text.splitlines()) :]
    assert LOG_FILES * LOG_BYTES <= 20 << 20


def test_what_a_child_prints_comes_through_the_pipe(tmp_path):
    log = ServerLog(tmp_path, most=2000, files=2)

    def speak():
        log.begin_child()
        for number in range(300):
            os.write(1 + number % 2, b"child %d\n" % number)

    child = get_context("fork").Process(target=speak)
    child.start()
    while child.is_alive():
        log.drain()
        child.join(0.01)
    log.close()

    assert (tmp_path / "server.log").read_text().endswith("child 299\n")
    assert sum(path.stat().st_size for path in tmp_path.iterdir()) <= 4000


def test_a_full_disk_loses_lines_and_stops_nobody(tmp_path):
    log = ServerLog(tmp_path)
    log.path.unlink()
    log.path.symlink_to("/dev/full")
    log._shut()
    log.write(b"nowhere to go\n")
    log.path.unlink()
    log.write(b"there is room again\n")
    log.close()

    assert log.path.read_text() == "there is room again\n"
