"""The data folder: closed to everybody but its owner, and served as far as it goes when its disk is full."""

from __future__ import annotations

import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest
import requests

from tests.support.served import START, Served
from tests.support.workshop import MANAGER, PASSWORD, free_port
from witnessmark.config import Settings
from witnessmark.operate import disk
from witnessmark.trade.ground.errors import Refusal

# A small disk in a mount table of the server's own, filled to the last byte, with the workshop in SMALL/data.
FILLED = """
import os, shutil, subprocess, sys
from pathlib import Path
from witnessmark.operate import disk
data = Path(sys.argv[1])
subprocess.run(["mount", "-t", "tmpfs", "-o", "size=40m", "none", str(data.parent)], check=True)
shutil.copytree(data.parent.with_name("founded"), data)
if {reserve}:
    disk.keep_reserve(data)
with open(data.parent / "filled", "wb", buffering=0) as file:
    try:
        while True:
            file.write(bytes(4096))
    except OSError:
        pass
"""
APART = "import os, sys\nos.execvp('unshare', ['unshare', '-rm', sys.executable, '-c', {script!r}, *sys.argv[1:]])"


@pytest.fixture
def small_disk(founded_once, tmp_path) -> Settings:
    if subprocess.run(["unshare", "-rm", "true"], capture_output=True, check=False).returncode:
        pytest.skip("this machine lets nobody mount a small disk")
    shutil.copytree(founded_once[0], tmp_path / "founded")
    (tmp_path / "small").mkdir()
    return Settings(tmp_path / "small" / "data")


def script(reserve: bool) -> str:
    return APART.format(script=FILLED.format(reserve=reserve) + START)


def test_a_full_disk_is_named_at_the_start_and_reading_goes_on(small_disk):
    with Served(small_disk, script(reserve=True)) as server:
        assert server.facts["disk_full"] is True
        name, mark = {"name": MANAGER, "password": PASSWORD}, {"X-Witnessmark": "office"}
        signed_in = requests.post(server.url + "/api/office/sign-in", json=name, headers=mark, timeout=10)
        assert signed_in.status_code == 200
        cookie = {"Cookie": signed_in.headers["Set-Cookie"].split(";")[0]}
        assert requests.get(server.url + "/api/jobs", headers=cookie, timeout=10).status_code == 200


def test_a_disk_without_room_even_for_reading_gets_one_sentence(small_disk):
    where = [str(small_disk.data), str(free_port()), str(free_port())]
    ended = subprocess.run(
        [sys.executable, "-c", script(reserve=False), *where], capture_output=True, text=True, timeout=30, check=False
    )
    assert ended.returncode == 1
    assert ended.stderr.splitlines()[-1].startswith(f"The disk under {small_disk.data} is full")


def test_the_reserve_is_given_up_when_a_server_starts_on_a_full_disk_and_made_again(tmp_path):
    disk.keep_reserve(tmp_path)
    assert (tmp_path / disk.RESERVE).stat().st_blocks * 512 >= disk.RESERVE_BYTES
    assert not disk.is_full(tmp_path)
    assert (tmp_path / disk.RESERVE).exists()
    assert disk.is_full(tmp_path, least=shutil.disk_usage(tmp_path).total)
    assert not (tmp_path / disk.RESERVE).exists()


@pytest.mark.parametrize("held", [[], [disk.DATABASE]])
def test_a_folder_that_was_open_to_others_is_closed(tmp_path, held):
    folder = loose(tmp_path, held)
    disk.make_private(folder)

    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_an_open_folder_with_other_things_in_it_is_refused_and_left_as_it_is(tmp_path):
    folder = loose(tmp_path, ["holiday.jpg"])
    with pytest.raises(Refusal, match="can be read by others"):
        disk.make_private(folder)

    assert stat.S_IMODE(folder.stat().st_mode) == 0o755


def test_an_open_folder_that_cannot_be_closed_is_refused(tmp_path, monkeypatch):
    folder = loose(tmp_path, [])
    monkeypatch.setattr(Path, "chmod", lambda *_: None)  # as on a disk that knows no owners
    with pytest.raises(Refusal, match="chmod 700"):
        disk.make_private(folder)


def test_the_server_closes_the_folder_it_is_given(tmp_path):
    folder = loose(tmp_path, [])
    where = [str(folder), str(free_port()), str(free_port())]
    ended = subprocess.run(
        [sys.executable, "-c", START, *where], capture_output=True, text=True, timeout=30, check=False
    )

    assert "holds no workshop yet" in ended.stderr
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def loose(where: Path, held: list[str]) -> Path:
    folder = where / "loose"
    folder.mkdir()
    for name in held:
        (folder / name).touch()
    folder.chmod(0o755)
    return folder
