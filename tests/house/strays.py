"""Finds words for people that stand in the server's code instead of the catalogue of sentences.

python -m tests.house.strays server/witnessmark/web
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

TWO_WORDS = re.compile(r"(^|[\s“‘(:])[A-Za-z][A-Za-z’'-]+[,;:.]? [A-Za-z][A-Za-z’'-]+")
COUNTED = re.compile(r"(^|\s)0 [a-z]{3,}")
# For the database, for programs, or for whoever debugs them.
UNREAD = re.compile(
    r"^\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|PRAGMA|WITH|BEGIN|ALTER|ANALYZE|ATTACH|VACUUM|REINDEX|ORDER BY)"
    r"|^-----|[a-z]+-src |max-age=|no-cache|filename=|^openssl |^Atkinson Hyperlegible|^<(rect|audio|thead) "
    r"|^(wide by-fastener|tag solid|not proven|no limit)$"
    r"|^Content-|charset=|; ?q=|^witnessmark figures |^ AND tags : |^en-us of |^\s*:root[{]--"
)
UNREAD_CALLS = {
    "ValueError", "TypeError", "KeyError", "LookupError", "RuntimeError", "AssertionError", "NotImplementedError",
    "OSError", "compile", "text", "debug", "info", "warning", "error", "exception", "split", "partition", "startswith",
    "endswith", "strptime", "strftime", "getLogger", "DeprecationWarning", "execute", "executescript", "Blueprint",
}  # fmt: skip
# Shapes of the wire, described for programmers; words for recognisers; the name a certificate carries.
UNREAD_FILES = re.compile(r"web/([a-z_]*schemas|[a-z]+_statements|sync_shapes)[.]py$|speech/(rating|readings)[.]py$")


def strays(path: Path) -> Iterator[tuple[int, str]]:
    """(line, text) of each."""
    if UNREAD_FILES.search(path.as_posix()):
        return
    tree = ast.parse(path.read_text())
    unread = set(_unread(tree))
    for node in ast.walk(tree):
        if id(node) in unread:
            continue
        if isinstance(node, ast.JoinedStr):
            text = "".join(part.value if isinstance(part, ast.Constant) else "0" for part in node.values)
        elif isinstance(node, ast.Constant) and type(node.value) is str:
            text = node.value
        else:
            continue
        if (TWO_WORDS.search(text) or COUNTED.search(text)) and not UNREAD.search(text):
            yield node.lineno, " ".join(text.split())


def _unread(tree: ast.AST) -> Iterator[int]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                yield id(first.value)
        if isinstance(node, ast.JoinedStr):
            yield from (id(part) for part in node.values)
        if isinstance(node, ast.Call) and _name(node.func) in UNREAD_CALLS:
            for argument in [*node.args, *(keyword.value for keyword in node.keywords)]:
                yield from (id(part) for part in ast.walk(argument))
        if isinstance(node, ast.keyword) and node.arg in ("metadata", "description"):
            # The description of the wire, for programmers.
            yield from (id(part) for part in ast.walk(node.value))
        if isinstance(node, ast.AnnAssign):
            yield from (id(part) for part in ast.walk(node.annotation))


def _name(node: ast.AST) -> str:
    return node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")


def main(folders: list[str]) -> None:
    count = 0
    for folder in folders:
        for path in [Path(folder)] if folder.endswith(".py") else sorted(Path(folder).rglob("*.py")):
            for line, text in strays(path):
                count += 1
                print(f"{path}:{line}: {text}")
    print(f"{count} strays")


if __name__ == "__main__":
    main(sys.argv[1:])
