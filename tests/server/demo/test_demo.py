"""The demo: an invented workshop that says so, is there in seconds, and is still there tomorrow."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
import requests
from PIL import Image

from tests.screens.demo_server import Demo
from tests.support.demo import copy_of_demo
from witnessmark.config import Settings, sample_media_folder
from witnessmark.db import make_engine, reading
from witnessmark.operate import demo as making
from witnessmark.operate.demo_measuring import one_by_one
from witnessmark.operate.demo_speaking import sound_first
from witnessmark.operate.demo_tightening import tap_by_tap
from witnessmark.operate.log_check import check_log
from witnessmark.people import workshops
from witnessmark.trade.ground.errors import Refusal

FINISHED = "2391"
SAID = {"rules", "gauges", "procedures", "sizes", "limits", "tools", "sheets", "words"}


@pytest.fixture(scope="module")
def made(demo_once, tmp_path_factory) -> Settings:
    return copy_of_demo(demo_once, tmp_path_factory.mktemp("demo") / "data")


@pytest.fixture(scope="module")
def story() -> dict:
    return json.loads((sample_media_folder() / "story.json").read_text())


@pytest.fixture(scope="module")
def groups() -> list[dict]:
    """What the manager says at the desk, group by group."""
    folder = sample_media_folder()
    return [
        group
        for name in ("measuring", "tightening", "speaking")
        for group in json.loads((folder / f"{name}.json").read_text())["said"]
    ]


def steps(job: dict) -> list[dict]:
    return list(sound_first(tap_by_tap(one_by_one(job["entries"]))))


def signed_in(url: str) -> requests.Session:
    session = requests.Session()
    session.headers["X-Witnessmark"] = "office"
    answer = session.post(f"{url}/api/office/sign-in", json={"name": "Tomas", "password": "witness-demo"}, timeout=20)
    assert answer.status_code == 200, answer.text
    return session


def test_every_record_of_the_story_stands_in_a_log_that_checks_out(made, story, groups):
    engine = make_engine(made.database)
    with reading(engine) as conn:
        report = check_log(conn, workshops.only(conn))
    engine.dispose()

    answer = sum(len(steps(job)) + 1 for job in story["jobs"])
    desk = 1 + len(story["phones"]) + 5  # founded, phones joined, engine types described
    spoken = sum(1 if name == "rules" else len(group[name]) for group in groups for name in SAID & group.keys())
    assert report.faults == []
    assert report.size == answer + desk + spoken


def test_the_finished_teardown_has_about_forty_pictures_and_sound_figures_and_torque(story):
    finished = next(job for job in story["jobs"] if job["opened"]["number"] == FINISHED)
    kinds = [step["kind"] for step in steps(finished)]
    assert 38 <= kinds.count("photo_taken") <= 50
    assert kinds.count("sound_recorded") >= 3
    assert kinds.count("measured") >= 30
    assert kinds.count("fastener_tightened") >= 20
    assert [step["stage"] for step in finished["entries"] if step["kind"] == "stage_reached"][-1] == "release"


def test_the_engines_are_an_inline_a_v_and_a_flat_one_and_one_of_them_came_back(story):
    types = {job["opened"]["engine_type"] for job in story["jobs"]}
    assert {"Corrie 2.2 four", "Halvern 2.9 V6", "Brantholm flat four"} <= types
    numbers = [job["opened"]["engine_number"] for job in story["jobs"]]
    assert any(numbers.count(number) == 2 for number in numbers)


def test_the_pictures_say_they_are_invented_and_stay_within_their_room():
    folder = sample_media_folder()
    pictures = sorted((folder / "pictures").glob("*.jpg"))
    assert sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) < 25_000_000
    sizes = []
    for path in pictures:
        with Image.open(path) as picture:
            sizes.append(picture.size[0] * picture.size[1])
            assert picture.getexif()[0x010F] == "Invented", path.name
    assert sum(size > 12_000_000 for size in sizes) >= 3


def test_no_folder_is_thrown_away_that_is_not_a_demos(tmp_path):
    (tmp_path / "letters.txt").write_text("do not lose this")
    with pytest.raises(Refusal) as refused:
        making.open_demo(Settings(tmp_path, demo=True), reset=True)
    assert str(tmp_path) in refused.value.message
    assert (tmp_path / "letters.txt").read_text() == "do not lose this"


def test_the_demo_says_where_to_go_and_is_still_there_after_a_restart(tmp_path):
    with Demo(tmp_path / "demo") as demo:
        assert re.fullmatch(r"[A-Z0-9]{4}-[A-Z0-9]{4}", demo.code)
        session = signed_in(demo.url)
        jobs = {job["number"]: job for job in session.get(f"{demo.url}/api/jobs", timeout=20).json()["jobs"]}
        note = {
            "job": jobs[FINISHED]["id"],
            "kind": "note_made",
            "location": None,
            "body": {"text": "Owner rang."},
            "media": [],
        }
        assert session.post(f"{demo.url}/api/desk/entries", json=note, timeout=20).status_code == 201
        me = session.get(f"{demo.url}/api/office/me", timeout=20).json()
    with Demo(tmp_path / "demo") as demo:
        session = signed_in(demo.url)
        again = session.get(f"{demo.url}/api/office/me", timeout=20).json()
        items = session.get(f"{demo.url}/api/search", params={"q": "owner rang"}, timeout=20).json()["items"]
    assert me["demo"] and "invented" in me["workshop"]["name"]
    assert [item["text"] for item in items] == ["Owner rang."]
    assert (again["server"], again["epoch"]) == (me["server"], me["epoch"])


def command(*typed: str, given: str = "") -> subprocess.CompletedProcess:
    program = [sys.executable, "-m", "witnessmark.cli", *typed]
    return subprocess.run(program, input=given, capture_output=True, text=True, timeout=120, check=False)


def test_a_workshop_is_not_founded_while_something_is_missing_and_nobody_can_be_asked(tmp_path):
    answer = command("serve", "--data", str(tmp_path / "w"), "--workshop", "Invented Works")
    assert answer.returncode == 2
    assert "--manager" in answer.stderr
    assert not (tmp_path / "w" / "witnessmark.db").exists()


def test_views_are_made_again_backups_made_and_everything_looked_over_by_command(made, tmp_path):
    rebuilt = command("rebuild", "--data", str(made.data))
    backed = command("backup", "--data", str(made.data), str(tmp_path / "backup"))
    restored = command("restore", "--data", str(tmp_path / "again"), str(tmp_path / "backup"))
    looked = command("doctor", "--data", str(tmp_path / "again"))
    for finished in (rebuilt, backed, restored):
        assert finished.returncode == 0, finished.stdout + finished.stderr
    assert "Views rebuilt" in rebuilt.stdout
    assert "checked" in backed.stdout
    assert Path(tmp_path / "again" / "witnessmark.db").exists()
    assert "log" in looked.stdout.lower()
    assert looked.returncode == 0, looked.stdout


def test_a_command_that_names_a_folder_without_a_workshop_says_so(tmp_path):
    answer = command("rebuild", "--data", str(tmp_path))
    assert answer.returncode == 2
    assert "holds no workshop" in answer.stderr


def test_a_file_that_cannot_be_read_is_named_and_not_told_as_a_stack_of_calls(tmp_path):
    missing = tmp_path / "password.txt"
    typed = ("--workshop", "Invented Works", "--manager", "Ida", "--password-file", str(missing))
    answer = command("serve", "--data", str(tmp_path / "w"), *typed)
    assert answer.returncode == 2
    assert str(missing) in answer.stderr and "Traceback" not in answer.stderr
