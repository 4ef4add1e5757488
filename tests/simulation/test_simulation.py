"""Short schedules, each that once found a fault, and proof that the bed sees faults. More of them with --all."""

from __future__ import annotations

import json
from contextlib import ExitStack, contextmanager
from pathlib import Path

import pytest

from tests.simulation import bed, schedule
from tests.simulation.run import Result, running
from tests.support.cases import all_cases
from witnessmark.db import writing
from witnessmark.media import store, uploads
from witnessmark.sync import incoming, receive

COUNT, ALL, SHORTEST, LONGEST = 50, 200, 3, 7
CASES = json.loads((Path(__file__).parent / "cases.json").read_text())


@pytest.fixture(scope="module")
def runner():
    with running() as made:
        yield made


def words(result: Result) -> str:
    how = f"python -m tests.simulation --events '{json.dumps(result.events)}' --seed {result.seed}"
    return f"{result.fault}\n{how}\n" + "\n".join(result.trace)


def test_every_promise_is_kept_under_many_schedules(runner, pytestconfig):
    for seed in range(ALL if pytestconfig.getoption("all") else COUNT):
        result = runner.run(seed, schedule.make(seed, SHORTEST, LONGEST))
        assert not result.fault, words(result)


@all_cases("case", CASES, ids=lambda case: case["name"])
def test_what_once_broke_a_promise_breaks_it_no_more(runner, case):
    result = runner.run(case["seed"], case["events"])
    assert not result.fault, words(result)


def test_a_schedule_goes_the_same_way_each_time(runner):
    """Keys, signatures and hashes differ from run to run; what happens, and in which order, does not."""
    events = schedule.make(7)
    assert runner.run(7, events).trace == runner.run(7, events).trace


NOTE, PHOTO, SERVE = ["note", "A", 0], ["photo", "A", 0, 700, False], ["serve", 100]


def faults(runner, *schedules: list, changes=()) -> set[str]:
    return {runner.run(4, events, changes).fault for events in schedules}  # a seed whose runs look at all there is


def test_the_bed_sees_a_server_that_acknowledges_and_writes_nothing(runner, monkeypatch):
    """It has to lose them late: a receipt needs their way up to the signed head, which no log without them can give."""
    held: list = []

    @contextmanager
    def held_open(engine):
        with ExitStack() as stack:
            conn = stack.enter_context(writing(engine))
            yield conn
            held.append((stack.pop_all(), conn))

    @contextmanager
    def then_rolled_back(engine):
        stack, conn = held.pop()
        with stack:
            yield conn
            conn.get_transaction().rollback()

    assert faults(runner, [NOTE, SERVE]) == {""}
    monkeypatch.setattr(receive, "writing", held_open)
    monkeypatch.setattr(receive, "reading", then_rolled_back)
    monkeypatch.setattr(bed, "MOST_REQUESTS", 30)
    (fault,) = faults(runner, [NOTE, ["serve", 9]])
    # The head that answered was signed over records that are nowhere: the phone kept it.
    assert "a phone saw a head of" in fault


def test_the_bed_sees_a_server_that_says_here_of_files_it_does_not_have(runner, monkeypatch):
    monkeypatch.setattr(store, "which", lambda conn, wanted: set(wanted))
    monkeypatch.setattr(uploads, "register", lambda conn, sha256, length, head: "image/jpeg")
    (fault,) = faults(runner, [PHOTO, SERVE])
    assert "original acknowledged and not there" in fault


def test_the_bed_sees_projections_that_miss_a_record(runner, monkeypatch):
    monkeypatch.setattr(incoming, "apply", lambda conn, rows: None)
    (fault,) = faults(runner, [NOTE, SERVE])
    assert "a replay of the log makes other rows" in fault


def test_the_bed_sees_a_phone_that_empties_its_outbox_before_the_receipt(runner):
    sending = 'const pushed = await requestJson("/api/sync/push"'
    deleting = 'await withDb((db) => Promise.all(offered.map(({ row }) => db.delete("outbox", `entry:${row.id}`))));'
    lost = ([NOTE, ["lose_request", soon], SERVE] for soon in (1, 2, 3))
    seen = faults(runner, *lost, changes=[(sending, f"{deleting} {sending}")])
    assert any("nowhere on the server" in fault for fault in seen)


def test_the_bed_sees_a_phone_that_says_saved_before_it_is(runner):
    changes = [
        (
            "await Promise.all([...requests, tx.done]);",
            "void Promise.all([...requests, tx.done]).catch(() => undefined);",
        ),
        ("await withDb((db) => readBack(db, sealed, media));", ""),
    ]
    killed = ([NOTE, SERVE, ["kill_phone", "A", steps], PHOTO, SERVE] for steps in (10, 12, 14))
    assert any(
        "was called saved and is not on the phone" in fault for fault in faults(runner, *killed, changes=changes)
    )
