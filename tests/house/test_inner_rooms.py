"""The rooms inside trade/, bay/, office/ and parts/: what each may look into, and no circles in TypeScript either."""

from __future__ import annotations

import re
import subprocess
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TRADE = ROOT / "server" / "witnessmark" / "trade"
SRC = ROOT / "pwa" / "src"
MOST_FILES = 45
# The pictures of the demo are found by name, out of story.json; nobody reads through them.
UNCOUNTED = {"sample_media/pictures"}

# room -> rooms below it that it may look into; a room may always look into itself.
# The trade is judged by this one table in both languages.
ROOMS = {
    "trade": {
        "ground": set(),
        "engine": {"ground"},
        "measuring": {"ground", "engine"},
        "sheets": {"ground", "engine", "measuring"},
        "tightening": {"ground", "engine", "measuring"},
        "proposals": {"ground", "engine", "measuring", "sheets"},
        "record": {"ground", "engine", "measuring", "tightening"},
        "spoken": {"ground", "engine", "measuring", "record"},
    },
    "bay": {
        "frame": set(),
        "camera": {"frame"},
        "people": {"frame"},
        "speaking": {"frame"},
        "phone": {"frame", "people", "speaking"},
        "job": {"frame", "camera", "speaking"},
        "measuring": {"frame", "speaking", "job"},
        "tightening": {"frame", "people", "speaking", "phone", "job"},
    },
    "office": {
        "frame": set(),
        "fits": {"frame"},
        "people": {"frame"},
        "recording": {"frame"},
        "registers": {"frame"},
        "job": {"frame", "recording", "registers"},
        "jobs": {"frame", "recording"},
        "spoken": {"frame", "recording", "registers", "job"},
    },
    "parts": {
        "words": set(),
        "controls": {"words"},
        "engine": {"words", "controls"},
        "figures": {"words"},
        "fits": {"words", "controls"},
        "grid": {"words"},
        "joint": {"words", "engine"},
        "media": {"words", "controls"},
    },
}

# `import type` and `export … from` count like any other import.
TS_IMPORT = re.compile(r"""(?:from|import)\s*\(?\s*["'](\.[^"']+)["']""")
PY_IMPORT = re.compile(r"^\s*(?:from|import) witnessmark\.trade\.(\w+)", re.MULTILINE)


def apps_files() -> list[Path]:
    every = sorted(SRC.rglob("*.ts*"))
    return [path for path in every if not path.name.endswith((".d.ts", ".test.ts", ".test.tsx"))]


def imported(path: Path) -> set[Path]:
    """The files of the apps that a file imports."""
    targets = {(path.parent / target).resolve() for target in TS_IMPORT.findall(path.read_text())}
    return {target for target in targets if target.suffix in {".ts", ".tsx"} and target.is_relative_to(SRC)}


def inner_room(path: Path, house: str) -> str:
    """The room of that house a file stands in; "" for a file in no room of it, such as the house's own App.tsx."""
    parts = path.relative_to(SRC).parts
    return parts[1] if parts[0] == house and len(parts) > 2 else ""


def a_circle(arrows: Mapping) -> list:
    """The first way round that is found, its beginning named again at the end; empty when there is none."""
    done, way = set(), []

    def walk(name) -> list:
        if name in way:
            return [*way[way.index(name) :], name]
        if name in done:
            return []
        way.append(name)
        for target in sorted(arrows.get(name, ())):
            if result := walk(target):
                return result
        way.pop()
        done.add(name)
        return []

    return next(filter(None, map(walk, sorted(arrows))), [])


def test_a_circle_is_found_where_there_is_one():
    assert a_circle({"a": {"b"}, "b": {"c", "d"}, "c": set(), "d": {"b"}}) == ["b", "d", "b"]
    assert a_circle({"a": {"b", "c"}, "b": {"c"}, "c": set()}) == []


@pytest.mark.parametrize("house", ROOMS)
def test_the_table_of_rooms_is_free_of_circles(house):
    assert a_circle(ROOMS[house]) == []


@pytest.mark.parametrize("house", ROOMS)
def test_every_room_stands_in_the_table(house):
    folders = {path.name for path in (SRC / house).iterdir() if any(path.rglob("*.ts*"))}
    folders |= {path.name for path in TRADE.iterdir() if any(path.rglob("*.py"))} if house == "trade" else set()
    assert folders == set(ROOMS[house])


@pytest.mark.parametrize("house", ROOMS)
def test_a_room_of_the_apps_looks_only_into_rooms_below_it(house):
    for path in apps_files():
        if not (room := inner_room(path, house)):
            continue
        seen = {inner_room(target, house) for target in imported(path) if target.relative_to(SRC).parts[0] == house}
        beyond = seen - ROOMS[house][room] - {room}
        assert not beyond, f"{path.relative_to(SRC)} looks into {sorted(beyond)}"


def test_a_room_of_the_trade_looks_only_into_rooms_below_it():
    for room, below in ROOMS["trade"].items():
        for path in (TRADE / room).glob("*.py"):
            beyond = set(PY_IMPORT.findall(path.read_text())) - below - {room}
            assert not beyond, f"{path.relative_to(TRADE)} looks into {sorted(beyond)}"


def test_no_import_of_the_apps_goes_round_in_a_circle():
    files = apps_files()
    assert len(files) > 300
    circle = a_circle({path: imported(path) for path in files})
    assert not circle, " -> ".join(str(path.relative_to(SRC)) for path in circle)


def test_no_folder_holds_more_files_than_can_be_taken_in():
    process = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if process.returncode:
        pytest.fail("This test reads the list of files from git: run it in a clone.")
    held = Counter(str(Path(name).parent) for name in process.stdout.splitlines())
    counted = {"server", "tests", "sample_media", "migrations"}
    full = {
        folder: count
        for folder, count in held.items()
        if count > MOST_FILES
        and folder not in UNCOUNTED
        and (folder.split("/")[0] in counted or folder.startswith("pwa/src"))
    }
    assert full == {}
