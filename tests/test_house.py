"""The house keeps its shape: rooms look only through their doors, no circles, files stay readable."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "server" / "witnessmark"
PWA_SRC = ROOT / "pwa" / "src"
LONGEST_FILE = 400
GENERATED = PWA_SRC / "wire" / "openapi.d.ts"  # written and read by programs

EVERY_ROOM = {
    "proof", "trade", "config", "db", "people", "media", "log",
    "projections", "sync", "speech", "pack", "tasks", "web", "operate",
}  # fmt: skip

# room -> rooms it may look into. A room may always look into itself.
DOORS = {
    "proof": set(),
    "trade": set(),
    "config": set(),
    "db": set(),
    "people": {"config", "db", "trade", "proof"},
    "media": {"config", "db", "trade"},
    "log": {"db", "trade", "proof"},
    "projections": {"db", "trade", "log"},
    "sync": {"config", "db", "trade", "proof", "log", "media", "people", "projections"},
    "speech": {"config", "db", "media", "trade"},
    "pack": {"config", "db", "trade", "log", "media", "proof", "people", "sync"},
    "tasks": {"config", "db", "media", "trade", "pack", "projections", "log", "speech", "sync"},
    "web": EVERY_ROOM - {"log", "operate"},
    "operate": EVERY_ROOM | {"app"},
    "app": EVERY_ROOM,
    "cli": EVERY_ROOM | {"app"},
}

PHONE_DOORS = {
    "trade": set(),
    "wire": {"trade"},
    "store": {"trade"},
    "capture": {"trade", "store"},
    "sync": {"trade", "store", "wire"},
    "parts": {"trade"},
    "look": set(),
    "speech": {"trade"},
    "bay": {"capture", "store", "parts", "speech", "trade", "look"},
    "office": {"capture", "store", "parts", "trade", "look", "wire"},
    "worker": set(),
    "main": {"bay", "office", "capture", "store", "sync", "parts", "speech", "trade", "look", "worker"},
}


def python_files() -> list[Path]:
    """Never none: a rule that looked at no file would hold of anything."""
    files = sorted(PACKAGE.rglob("*.py"))
    assert len(files) > 100, "the package is not where it was"
    return files


def room_of(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def module_name(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def imports_of(path: Path) -> set[str]:
    """Every module named by an import anywhere in the file, inside functions too, relative ones made absolute."""
    imports = set()
    package = module_name(path).split(".") if path.name == "__init__.py" else module_name(path).split(".")[:-1]
    for node in ast.walk(ast.parse(path.read_text(), str(path))):
        if isinstance(node, ast.Import):
            imports |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(package[: len(package) - node.level + 1]) if node.level else ""
            stem = ".".join(part for part in (base, node.module or "") if part)
            imports |= {stem} | {f"{stem}.{alias.name}" for alias in node.names}
    return imports


def known_modules() -> dict[str, Path]:
    return {module_name(path): path for path in python_files()}


def test_a_room_looks_only_through_its_doors():
    wrong = {}
    for path in python_files():
        room = room_of(module_name(path))
        if not room or room == "shipped":
            continue
        seen = {room_of(name) for name in imports_of(path) if name.split(".")[0] == "witnessmark"} - {""}
        if not_allowed := seen - DOORS[room] - {room}:
            wrong[module_name(path)] = sorted(not_allowed)
    assert wrong == {}, "each of these modules looks into rooms that it must not look into"


# The plural forms and numbers of a language come from a kept library.
PURE = {"proof": set(), "trade": {"babel"}}


@pytest.mark.parametrize("room", PURE)
def test_the_pure_rooms_use_the_standard_library_alone(room):
    files = sorted((PACKAGE / room).rglob("*.py"))
    assert files, "the room is empty or has another name"
    own = set(sys.stdlib_module_names) | {"witnessmark"} | PURE[room]
    foreign = {path.name: sorted({name.split(".")[0] for name in imports_of(path)} - own) for path in files}
    assert {name: modules for name, modules in foreign.items() if modules} == {}


def test_no_import_goes_round_in_a_circle():
    modules = known_modules()
    arrows = {name: {m for m in imports_of(path) if m in modules and m != name} for name, path in modules.items()}
    done, on_the_way = set(), []

    def walk(name):
        if name in done:
            return
        assert name not in on_the_way, " -> ".join([*on_the_way[on_the_way.index(name) :], name])
        on_the_way.append(name)
        for target in sorted(arrows[name]):
            walk(target)
        on_the_way.pop()
        done.add(name)

    for name in modules:
        walk(name)


def test_every_init_file_is_empty():
    inits = sorted(PACKAGE.rglob("__init__.py"))
    assert len(inits) > 10, "the rooms are not where they were"
    assert [str(path.relative_to(PACKAGE)) for path in inits if path.read_text().strip()] == []


def test_no_file_is_too_long_to_read_in_one_sitting():
    sources = python_files() + sorted((ROOT / "tests").rglob("*.py"))
    sources += [p for p in PWA_SRC.rglob("*") if p.suffix in {".ts", ".tsx", ".css"} and p != GENERATED]
    long = {str(p.relative_to(ROOT)): n for p in sources if (n := len(p.read_text().splitlines())) > LONGEST_FILE}
    assert long == {}


def test_the_top_level_holds_what_was_agreed_and_nothing_else():
    process = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if process.returncode:
        pytest.fail("This test reads the list of files from git: run it in a clone.")
    names = {line.split("/")[0] for line in process.stdout.splitlines()}
    agreed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "server", "pwa", "migrations", "tests", "sample_media"}
    assert {n for n in names if not n.startswith(".")} <= agreed


PHONE_IMPORT = re.compile(r"""(?:from|import)\s*\(?\s*["'](\.[^"']+)["']""")


def phone_files() -> list[Path]:
    """Never none, as above."""
    files = [p for p in sorted(PWA_SRC.rglob("*.ts*")) if not p.name.endswith((".d.ts", ".test.ts", ".test.tsx"))]
    assert len(files) > 100, "the sources of the phone are not where they were"
    return files


def test_a_room_of_the_phone_looks_only_through_its_doors():
    wrong = []
    for path in phone_files():
        room = path.relative_to(PWA_SRC).parts[0].split(".")[0]
        allowed = PHONE_DOORS[room] | {room}
        for target in PHONE_IMPORT.findall(path.read_text()):
            resolved = (path.parent / target).resolve()
            if not resolved.is_relative_to(PWA_SRC):
                if not resolved.is_relative_to(PACKAGE / "trade" / "data"):
                    wrong.append(f"{path.relative_to(PWA_SRC)} reaches outside: {target}")
                continue
            seen = resolved.relative_to(PWA_SRC).parts[0].split(".")[0]
            if seen not in allowed:
                wrong.append(f"{path.relative_to(PWA_SRC)} looks into {seen}")
    assert wrong == []


def test_only_sync_fetches_data_and_only_the_store_opens_the_phones_database():
    for path in phone_files():
        room = path.relative_to(PWA_SRC).parts[0].split(".")[0]
        text = path.read_text()
        # The speech room and the service worker fetch files of the app, never anybody's data.
        if room not in {"sync", "worker", "speech"} and path.name != "api.ts":
            assert not re.search(r"(?<![\w.])fetch\(", text), f"{path.relative_to(PWA_SRC)} fetches"
        if room != "store":
            assert "indexedDB.open" not in text, f"{path.relative_to(PWA_SRC)} opens the database"
            assert not re.search(r"from [\"']idb[\"']", text), f"{path.relative_to(PWA_SRC)} opens the database"
