"""server/ASVS.md claims no more than is there, and what it says of the code as a whole holds of the code as a whole."""

from __future__ import annotations

import ast
import re
from collections import Counter
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "server" / "ASVS.md"
STATES = ("met", "by design", "n/a", "not met")
# Requirements of levels 1 and 2 in each chapter of 5.0.0.
CHAPTERS = {
    1: 27, 2: 11, 3: 19, 4: 10, 5: 9, 6: 35, 7: 18, 8: 7, 9: 7, 10: 29, 11: 14, 12: 9, 13: 13, 14: 9, 15: 13, 16: 16,
    17: 7,
}  # fmt: skip
ROW = re.compile(r"^\| (\d+)\.(\d+\.\d+) \| ([12]) \| ([^|]+) \| ([^|]+) \| ([^|]*) \|$", re.MULTILINE)
TEST = re.compile(r"`(tests/[\w/]+\.py)::(\w+)`")
PATH = re.compile(r"`((?:server|pwa|tests|migrations)/[\w./]+|pyproject\.toml)`")

RUNS_TEXT = {"eval", "exec", "compile", "__import__", "os.system", "os.popen"}
READS_CODE = {"pickle", "marshal", "shelve", "yaml", "xml", "lxml", "dill"}
CALLS_OUT = {"urllib.request", "http.client", "requests", "httpx", "aiohttp", "ftplib", "smtplib", "xmlrpc", "urllib3"}
MARKUP = re.compile(
    r"dangerouslySetInnerHTML|(inner|outer)HTML|insertAdjacentHTML|document\.write|\beval\(|new Function"
)
SQL = re.compile(r"\s*(SELECT|INSERT|UPDATE|DELETE|DROP|CREATE|ALTER|PRAGMA)\b")
# Names of tables and settings and the direction of an order, all written in the code; values never.
INTO_SQL = {
    "_matching(RECORD_WORDS.name, order)",
    "_matching_query('ASC')",
    "later",
    "name",
    "order",
    "pragma",
    "said_of",
    "self.name",
    "table",
    "tokens",
    "verb",
    "verb.lower()",
}


def rows() -> list[tuple[str, ...]]:
    return ROW.findall(PAGE.read_text())


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text())


def server_files() -> list[Path]:
    files = sorted((ROOT / "server" / "witnessmark").rglob("*.py"))
    assert len(files) > 100, "the package is not where it was"
    return files


@cache
def calls(path: Path) -> list[tuple[str, ast.Call]]:
    """Every call of a plain name or of something's attribute, `(name as it is written, call)`."""
    named = (
        n for n in ast.walk(tree_of(path)) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name | ast.Attribute)
    )
    return [(_name(call.func), call) for call in named]


def _name(node: ast.expr) -> str:
    if isinstance(node, ast.Attribute):
        return f"{_name(node.value)}.{node.attr}"
    return node.id if isinstance(node, ast.Name) else "?"


@cache
def modules(path: Path) -> set[str]:
    imported: set[str] = set()
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            imported |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            imported |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return imported


def test_every_requirement_stands_there_once_with_a_state_and_a_reason():
    requirements = rows()
    assert Counter(int(chapter) for chapter, *_ in requirements) == CHAPTERS
    numbers = [f"{chapter}.{number}" for chapter, number, *_ in requirements]
    assert len(set(numbers)) == len(numbers)
    assert Counter(level for _, _, level, *_ in requirements) == {"1": 70, "2": 183}
    for chapter, number, _, requirement, state, why in requirements:
        assert state in STATES and requirement.strip() and why.strip(), f"{chapter}.{number}"


def test_the_counts_on_top_are_those_of_the_rows():
    text = PAGE.read_text()
    for level in ("1", "2"):
        counted = Counter(state for _, _, of, _, state, _ in rows() if of == level)
        line = " | ".join(str(counted[state]) for state in STATES)
        assert f"| {level} | {line} | {sum(counted.values())} |" in text


def test_every_test_and_file_that_is_named_is_there():
    text = PAGE.read_text()
    for file, name in TEST.findall(text):
        path = ROOT / file
        assert path.is_file(), file
        assert name in {node.name for node in ast.walk(tree_of(path)) if isinstance(node, ast.FunctionDef)}, name
    for path in PATH.findall(text):
        assert (ROOT / path).exists(), path


def test_what_is_met_names_its_test_and_what_is_by_design_its_place():
    for chapter, number, _, _, state, why in rows():
        if state == "met":
            assert TEST.search(why), f"{chapter}.{number}"
        if state == "by design":
            assert PATH.search(why) or "](#" in why, f"{chapter}.{number}"


def test_every_place_on_the_page_that_a_row_leads_to_is_there():
    text = PAGE.read_text()
    headings = {re.sub(r"[^\w -]", "", line.lower()).replace(" ", "-") for line in re.findall(r"^#+ (.+)$", text, re.M)}
    assert set(re.findall(r"\]\(#([\w-]+)\)", text)) <= headings


def test_no_text_is_run_as_program_or_markup():
    for path in server_files():
        for name, call in calls(path):
            assert name not in RUNS_TEXT, f"{path}: {name}"
            shell = next((k.value for k in call.keywords if k.arg == "shell"), None)
            assert shell is None, f"{path}: {ast.unparse(call)}"
        assert not {name.split(".")[0] for name in modules(path)} & READS_CODE, path
    scripts = [p for kind in ("ts", "tsx") for p in (ROOT / "pwa" / "src").rglob(f"*.{kind}") if ".test." not in p.name]
    assert len(scripts) > 100, "the apps are not where they were"
    for path in scripts:
        assert not MARKUP.search(path.read_text()), path


def test_no_sql_is_put_together_with_values():
    judged = 0
    for path in server_files():
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.JoinedStr) and SQL.match(str(getattr(node.values[0], "value", ""))):
                judged += 1
                put_in = {ast.unparse(part.value) for part in node.values if isinstance(part, ast.FormattedValue)}
                assert put_in <= INTO_SQL, f"{path}: {ast.unparse(node)}"
            elif isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mod | ast.Add):
                assert not SQL.match(str(getattr(node.left, "value", ""))), f"{path}: {ast.unparse(node)}"
        for name, call in calls(path):
            formats = name.endswith(".format") and isinstance(call.func.value, ast.Constant)
            assert not (formats and SQL.match(str(call.func.value.value))), f"{path}: {ast.unparse(call)}"
    assert judged > 5, "the SQL is not where it was"


def test_nothing_of_the_server_calls_out():
    """The supervisor alone opens connections, to see whether its own ports answer."""
    for path in server_files():
        assert not modules(path) & CALLS_OUT, path
        if path.name != "serve.py":
            assert not any(name.endswith("create_connection") for name, _ in calls(path)), path
