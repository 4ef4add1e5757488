"""A name says what the thing is, in the apps too: nothing declared in their code tells how its value came to be."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PWA = Path(__file__).resolve().parents[2] / "pwa"
STORIES = {"one", "found", "said", "told", "asked", "anew", "takeIn", "tell"}
STORY = re.compile(rf"\b(?:{'|'.join(sorted(STORIES))})\b")
FOLDERS = ("src", "support")
PAIRS = {"(": ")", "[": "]", "{": "}", "<": ">"}

QUIET = re.compile(r"/\*.*?\*/|(?<![:\\])//[^\n]*|'(?:\\.|[^'\\\n])*'|\"(?:\\.|[^\"\\\n])*\"", re.DOTALL)
DECLARED = re.compile(r"\b(?:const|let|var|import|import\s+type)\s+(?=([\w$]+|[{\[]))")
NAMED = re.compile(r"\b(?:function\s*\*?|class)\s+([\w$]+)|\bas\s+([\w$]+)|(?<![\w$.])([\w$]+)\s*=>")
# What follows the parameters of an arrow, a function or a method; its result may be described between.
AFTER_PARAMETERS = re.compile(r"\s*(?:=>|\{|:\s*[^;=(){}]*(?:=>|\{|\())")
NAME = re.compile(r"\s*(?:(?:public|private|protected|readonly)\s+)*(?:\.\.\.)?([\w$]+)")


def closing(text: str, start: int) -> int:
    """Where the bracket that opens at `start` closes; the end of the text where it does not."""
    opener, closer, depth = text[start], PAIRS[text[start]], 0
    for at in range(start, len(text)):
        depth += (text[at] == opener) - (text[at] == closer)
        if not depth:
            return at
    return len(text)


def parts(text: str) -> Iterator[tuple[int, str]]:
    """What commas divide, outside of all brackets, each with where it starts."""
    depth = start = 0
    for at, sign in enumerate(text):
        arrow = sign == ">" and text[at - 1 : at] == "="
        depth += (sign in PAIRS) - (sign in PAIRS.values() and not arrow)
        if sign == "," and not depth:
            yield start, text[start:at]
            start = at + 1
    yield start, text[start:]


def pattern(text: str, start: int) -> Iterator[tuple[int, str]]:
    """The names that a parameter or a declaration binds, from one name down to nested braces."""
    start += len(text[start:]) - len(text[start:].lstrip().removeprefix("..."))
    if text[start : start + 1] not in ("{", "["):
        if name := NAME.match(text, start):
            yield name.start(1), name[1]
        return
    inside = start + 1
    for offset, part in parts(text[inside : closing(text, start)]):
        at = inside + offset
        key = re.match(r"\s*[\w$]+\s*:", part) if text[start] == "{" else None
        yield from pattern(text[: at + len(part)], at + (key.end() if key else 0))


def bound(source: str) -> Iterator[tuple[int, str]]:
    """Line and name of what a file declares: variables, functions, parameters, imports, caught errors; where no name of
    STORIES stands, nothing is read."""
    text = QUIET.sub(lambda quiet: re.sub(r"[^\n]", " ", quiet[0]), source)
    if not STORY.search(text):
        return
    names = {(name.start(name.lastindex), name[name.lastindex]) for name in NAMED.finditer(text) if name.lastindex}
    for declared in DECLARED.finditer(text):
        names.update(pattern(text, declared.end()))
    for opened in re.finditer(r"\(", text):
        end = closing(text, opened.start())
        if not STORY.search(text, opened.end(), end):
            continue
        caught = text[max(0, opened.start() - 8) : opened.start()].rstrip().endswith("catch")
        if caught or AFTER_PARAMETERS.match(text, end + 1):
            for offset, part in parts(text[opened.end() : end]):
                at = opened.end() + offset
                names.update(pattern(text[: at + len(part)], at))
    for at, name in names:
        yield text.count("\n", 0, at) + 1, name


def stories(source: str) -> list[tuple[int, str]]:
    return sorted((line, name) for line, name in bound(source) if name in STORIES)


def files_of(room: str) -> list[Path]:
    path = PWA / room
    return (
        [path]
        if path.is_file()
        else [file for file in sorted(path.rglob("*")) if file.suffix in (".ts", ".tsx", ".mjs")]
    )


ROOMS = [f"{folder}/{path.name}" for folder in FOLDERS for path in sorted((PWA / folder).iterdir())]


@pytest.mark.parametrize("room", [room for room in ROOMS if files_of(room)])
def test_names_say_what_a_thing_is(room):
    assert [
        f"{path.relative_to(PWA)}:{line} {name}" for path in files_of(room) for line, name in stories(path.read_text())
    ] == []


DECLARATIONS = {
    "const found = 1": ["found"],
    "let one: Row | null": ["one"],
    "const [one, , said] = pair": ["one", "said"],
    "const { a: told, said, b: { asked } = {}, ...tell } = row": ["asked", "said", "tell", "told"],
    "for (const [key, one] of all) {}": ["one"],
    "function tell(one: Row, said = ''): string {": ["one", "said", "tell"],
    "rows.map((one) => one.id)": ["one"],
    "rows.map((a, one) => a)": ["one"],
    "rows.find(one => one.id)": ["one"],
    "rows.map(([, one]): Entry => [one, 1])": ["one"],
    "rows.map(({ said, same }) => same)": ["said"],
    "type Each = (one: Row) => string": ["one"],
    "const isGap = (one: Held): one is Gap => true": ["one"],
    "async append(told: { bytes: string }, row: Row): Promise<Row> {": ["told"],
    "function each(all: Map<string, (one: Row) => Row>, asked: Row) {": ["asked", "one"],
    "try {} catch (told) {}": ["told"],
    "import { read, said } from './parse.ts'": ["said"],
    "import { sentence as told } from './parse.ts'": ["told"],
}
NO_DECLARATIONS = [
    "interface Row { said: string; one?: number }",
    "const row = { said: typed, asked: 1 }",
    "const { said: words, asked: expected } = row",
    "rows.map(({ said: words }) => words)",
    "const label = say('one.found', { one: 1 }) // one said (found) =>",
    "row.said = row.found(other)",
]


@pytest.mark.parametrize("source", DECLARATIONS)
def test_every_declaration_is_seen(source):
    assert [name for _, name in sorted(stories(source), key=lambda story: story[1])] == DECLARATIONS[source]


@pytest.mark.parametrize("source", NO_DECLARATIONS)
def test_a_field_a_string_and_a_comment_are_no_declarations(source):
    assert stories(source) == []
