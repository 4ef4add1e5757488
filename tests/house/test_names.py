"""A name says what the thing is: no name bound in the cleaned rooms tells a story of how its value came to be."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
STORIES = {"one", "found", "said", "told", "asked", "anew", "take_in", "tell"}
# Rooms where such names still stand; a room that is cleaned leaves this list.
NOT_YET = {
    "server/witnessmark/proof",
    "tests/bench",
    "tests/server/pack",
    "tests/server/speech",
    "tests/unit/pack",
    "tests/unit/proof",
}


FOLDERS = ("server/witnessmark", "tests", "tests/server", "tests/unit")


def files_of(room: str) -> list[Path]:
    path = ROOT / room
    return [path] if path.is_file() else sorted(path.rglob("*.py"))


def rooms() -> Iterator[str]:
    """Every file and folder of code beside each other in FOLDERS, but those that have not been cleaned yet."""
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).iterdir()):
            room = str(path.relative_to(ROOT))
            if path.suffix != ".py" and not path.is_dir():
                continue
            if room not in FOLDERS and room not in NOT_YET and files_of(room):
                yield room


def bound(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and name of all that a file binds: variables, parameters, functions, caught errors. What a class holds
    are its fields and methods, part of the recorded shapes, so they do not count."""
    nodes: list[tuple[ast.AST, bool]] = [(tree, False)]
    while nodes:
        node, in_class = nodes.pop()
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store) and not in_class:
            yield node.lineno, node.id
        elif isinstance(node, ast.arg):
            yield node.lineno, node.arg
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and not in_class:
            yield node.lineno, node.name
        elif isinstance(node, ast.ExceptHandler | ast.MatchAs | ast.MatchStar) and node.name:
            yield getattr(node, "lineno", 0), node.name
        elif isinstance(node, ast.alias) and node.asname:
            yield node.lineno, node.asname
        own_fields = isinstance(node, ast.ClassDef) or (in_class and isinstance(node, ast.Assign | ast.AnnAssign))
        nodes.extend((child, own_fields) for child in ast.iter_child_nodes(node))


def stories(source: str) -> list[tuple[int, str]]:
    return sorted((line, name) for line, name in bound(ast.parse(source)) if name.lstrip("_") in STORIES)


@pytest.mark.parametrize("room", list(rooms()))
def test_names_say_what_a_thing_is(room):
    assert [
        f"{path.relative_to(ROOT)}:{line} {name}" for path in files_of(room) for line, name in stories(path.read_text())
    ] == []


def test_every_binding_is_seen():
    source = """
def _tell(one, *told, said=None):
    found = asked = one
    for anew, (take_in, _) in told:
        pass
    return [one for one in found if (said := one)], lambda said: said
class Row:
    said: str
    found = 1
    def asked(self, one): pass
try: pass
except OSError as told: pass
import os as one
"""
    names = [name for _, name in stories(source)]
    assert sorted(names) == sorted(
        [
            "_tell",
            "one",
            "told",
            "said",
            "found",
            "asked",
            "anew",
            "take_in",
            "one",
            "said",
            "said",
            "one",
            "told",
            "one",
        ]
    )


def test_a_room_not_yet_cleaned_is_there_and_needs_it():
    for room in NOT_YET:
        assert any(stories(path.read_text()) for path in files_of(room)), f"{room} is clean: it can leave the list"
