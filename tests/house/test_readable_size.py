"""A function can be read in one go: at most 20 branches and 80 lines, in both languages."""

from __future__ import annotations

import ast
import subprocess
from functools import cache
from pathlib import Path

from tests.support.npm import PWA, builder
from tests.support.one_at_a_time import one_at_a_time

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("server", "tests", "pwa", "migrations", "sample_media")
MOST_BRANCHES = 20
MOST_LINES = 80

Function = ast.FunctionDef | ast.AsyncFunctionDef
TURNS = (
    ast.If, ast.IfExp, ast.For, ast.AsyncFor, ast.While, ast.ExceptHandler, ast.With, ast.AsyncWith, ast.match_case,
)  # fmt: skip


def branches(function: Function) -> int:
    """One for each if (also in an expression), loop, except, with and case; one for each and/or between two
    conditions; one for each for and each if of a comprehension. A function inside counts by itself."""
    count, nodes = 0, list(ast.iter_child_nodes(function))
    while nodes:
        node = nodes.pop()
        if isinstance(node, Function | ast.ClassDef):
            continue
        if isinstance(node, TURNS):
            count += 1
        elif isinstance(node, ast.BoolOp):
            count += len(node.values) - 1
        elif isinstance(node, ast.comprehension):
            count += 1 + len(node.ifs)
        nodes.extend(ast.iter_child_nodes(node))
    return count


def lines(function: Function) -> int:
    return function.end_lineno - function.lineno + 1


@cache
def functions() -> dict[str, Function]:
    """All of ours by "path:line name"."""
    return {
        f"{path.relative_to(ROOT)}:{node.lineno} {node.name}": node
        for folder in FOLDERS
        for path in sorted((ROOT / folder).rglob("*.py"))
        if "node_modules" not in path.parts
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, Function)
    }


def long_in_the_apps(lines: int, branches: int) -> list[str]:
    with one_at_a_time("build"):
        builder().install()
    node, _, _ = builder().find_node()
    command = [*node, "support/long_functions.mjs", str(lines), str(branches), "src"]
    return subprocess.run(command, cwd=PWA, capture_output=True, text=True, check=True).stdout.splitlines()


def test_no_function_has_more_branches_than_can_be_followed():
    counted = {name: branches(function) for name, function in functions().items()}

    assert len(counted) > 3000
    assert {name: count for name, count in counted.items() if count > MOST_BRANCHES} == {}


def test_no_function_is_longer_than_a_screen():
    counted = {name: lines(function) for name, function in functions().items()}

    assert {name: count for name, count in counted.items() if count > MOST_LINES} == {}


def test_no_function_of_the_apps_is_longer_or_has_more_branches():
    assert long_in_the_apps(MOST_LINES, MOST_BRANCHES) == []
    assert long_in_the_apps(MOST_LINES, MOST_BRANCHES - 5) != []


def test_branches_and_lines_are_counted():
    source = """
def judge(values, wanted):
    def inside():
        return 1 if values else 0
    for value in values:
        if value and wanted or not value:
            return [one for one in value if one]
    with wanted:
        try:
            return inside()
        except KeyError:
            return None if wanted else 0
"""
    outer = ast.parse(source).body[0]

    # for, if, and, or, for and if of the comprehension, with, except, if in the expression
    assert (branches(outer), branches(outer.body[0]), lines(outer)) == (9, 1, 11)
