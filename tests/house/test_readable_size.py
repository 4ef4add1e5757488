"""A function can be read in one go: at most 20 ways it may turn, at most 80 lines; the trade's twin stays the smaller."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

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


def functions() -> Iterator[tuple[str, Function]]:
    """("path:line name", the function) of all of ours."""
    for folder in FOLDERS:
        for path in sorted((ROOT / folder).rglob("*.py")):
            if "node_modules" in path.parts:
                continue
            for node in ast.walk(ast.parse(path.read_text())):
                if isinstance(node, Function):
                    yield f"{path.relative_to(ROOT)}:{node.lineno} {node.name}", node


def test_no_function_turns_more_ways_than_can_be_followed():
    assert {name: branches(one) for name, one in functions() if branches(one) > MOST_BRANCHES} == {}


def test_no_function_is_longer_than_a_screen():
    assert {name: lines(one) for name, one in functions() if lines(one) > MOST_LINES} == {}


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
