"""What people read stands in the catalogue: no words in the code, no key without sentence, no sentence without use."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.house.strays import strays

PACKAGE = Path(__file__).resolve().parents[2] / "server" / "witnessmark"
CATALOGUE = json.loads((PACKAGE / "trade" / "data" / "sentences" / "en.json").read_text())
SECTIONS = [name for name, sentences in CATALOGUE.items() if isinstance(sentences, dict) and name != "tables"]
OWN_SECTIONS = ("server", "pack", "proof")  # used on the server alone

# What people say, and what recognisers are told to listen for, is data of its own and stays as it is spoken.
WORDLESS = [path for path in sorted(PACKAGE.rglob("*.py")) if path.parent != PACKAGE / "trade" / "spoken"]
# File -> words that stay in the code, with the reason.
EXCEPTIONS = {
    # Read by whoever starts the program, before it knows which folder and which language to work with.
    "config.py": {"WITNESSMARK_DATA is not set: name the folder that holds the workshop's data."},
    # The format's own name in a file that goes from workshop to workshop.
    "trade/engine/types.py": {"witnessmark engine type 1"},
    "trade/measuring/procedures.py": {"witnessmark procedure 1"},
    "trade/tightening/sheets.py": {"witnessmark tightening sheet 1"},
    # Codes of a budget's sources and of the rows of a table.
    "trade/measuring/uncertainty.py": {"permissible error", "unknown gauges are told before shares are counted"},
    "trade/measuring/unproven.py": {"permissible error", "a variance gives a guard band"},
    "trade/measuring/verdicts.py": {"one of the limits is given"},
    "trade/sheets/table.py": {"taken over", "over all places"},
}
# Look like keys and are the names of files.
FILE_NAMES = {"server.crt", "server.key", "server.lock", "server.log", "server.pem"}

_key = re.compile(rf"({'|'.join(SECTIONS)})\.[a-z][A-Za-z0-9_]*(\.[A-Za-z0-9_]+)*")


def keys_in(source: str) -> set[str]:
    """Every literal in Python code that has the form of a key."""
    literals = (node.value for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Constant))
    return {text for text in literals if isinstance(text, str) and _key.fullmatch(text)} - FILE_NAMES


def missing(sources: Iterable[str], catalogue: dict) -> set[str]:
    """Keys that the code names and the catalogue has not."""
    named = set().union(*map(keys_in, sources))
    return {key for key in named if key.partition(".")[2] not in catalogue[key.partition(".")[0]]}


def unused(sources: Iterable[str], templates: Iterable[str], catalogue: dict) -> set[str]:
    """Keys of the server's own sections that neither code nor template names."""
    named, texts = set().union(*map(keys_in, sources)), list(templates)
    keys = {f"{section}.{name}" for section in OWN_SECTIONS for name in catalogue[section]}
    return {key for key in keys - named if not any(f'"{key}"' in text for text in texts)}


def sources() -> list[str]:
    return [path.read_text() for path in sorted(PACKAGE.rglob("*.py"))]


def templates() -> list[str]:
    return [path.read_text() for path in sorted(PACKAGE.rglob("*.typ"))]


@pytest.mark.parametrize("path", WORDLESS, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_no_words_for_people_stand_in_the_code(path):
    allowed = EXCEPTIONS.get(path.relative_to(PACKAGE).as_posix(), set())

    assert [(line, text) for line, text in strays(path) if text not in allowed] == []


def test_every_key_has_a_sentence():
    assert missing(sources(), CATALOGUE) == set()


def test_every_sentence_of_the_server_is_used():
    assert unused(sources(), templates(), CATALOGUE) == set()


def test_every_exception_is_still_needed():
    for name, texts in EXCEPTIONS.items():
        assert texts <= {text for _, text in strays(PACKAGE / name)}, name


def test_a_word_in_the_code_is_found(tmp_path):
    (tmp_path / "room.py").write_text('def show(name):\n    return f"{name} has not arrived yet."\n')

    assert list(strays(tmp_path / "room.py")) == [(2, "0 has not arrived yet.")]


def test_a_key_without_a_sentence_and_a_sentence_without_use_are_found():
    catalogue = {section: {} for section in SECTIONS} | {"pack": {"here": "Here.", "idle": "Idle.", "set": "Set."}}
    code = 'say("pack.here")\nWORDS = {"one": "proof.cli.nowhere"}\nopen("server.log")\n'

    assert missing([code], catalogue) == {"proof.cli.nowhere"}
    assert unused([code], ['#let words = "pack.set"'], catalogue) == {"pack.idle"}
