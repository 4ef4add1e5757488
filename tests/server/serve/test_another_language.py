"""Another language is one more file: with it the server's answers, the pack and its verifier say nothing in English.

The language is made up of the English one by an accent on every vowel, so that any plain English sentence that is left
came from the code.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.demo import copy_of_demo
from tests.support.one_at_a_time import ROOT
from witnessmark.config import built_app_folder
from witnessmark.trade.ground import sentences

ACCENTS = str.maketrans("aeiouAEIOU", "áéíóúÁÉÍÓÚ")
SECTIONS = ("trade", "server", "pack", "proof")
LONG = 14  # letters of a sentence that no record of the demo says by chance


def accented(wording):
    if isinstance(wording, dict):
        return {form: accented(text) for form, text in wording.items()}
    return "".join(
        part if part.startswith("{") else part.translate(ACCENTS) for part in re.split(r"(\{\w+\})", wording)
    )


def plain_pieces(wording) -> list[str]:
    """The stretches of a wording between its slots that are long enough to know it by."""
    texts = wording.values() if isinstance(wording, dict) else [wording]
    return [piece for text in texts for piece in re.split(r"\{\w+\}", text) if len(piece.strip()) >= LONG]


@pytest.fixture(scope="module")
def english() -> dict:
    return json.loads((sentences.FOLDER / "en.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def spoken_in_it(english, demo_once, tmp_path_factory, built) -> dict:
    """What a server says whose package differs from ours by that one file."""
    home = tmp_path_factory.mktemp("language")
    ours = Path(sentences.__file__).resolve().parents[2]
    shutil.copytree(ours, home / "server" / "witnessmark", ignore=shutil.ignore_patterns("__pycache__"))
    (home / "migrations").symlink_to(ROOT / "migrations")
    (home / "pwa").mkdir()
    (home / "pwa" / "dist").symlink_to(built_app_folder())
    theirs = {section: {key: accented(text) for key, text in english[section].items()} for section in SECTIONS}
    folder = home / "server" / "witnessmark" / "trade" / "data" / "sentences"
    (folder / "cy.json").write_text(json.dumps({"language": "cy"} | theirs), encoding="utf-8")
    settings = copy_of_demo(demo_once, home / "data")
    (home / "out").mkdir()
    environment = os.environ | {
        "PYTHONPATH": os.pathsep.join([str(home / "server"), str(ROOT)]), "WITNESSMARK_LANGUAGE": "cy",
        "PYTHONIOENCODING": "utf-8",
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-m", "tests.support.in_another_language", str(settings.data), str(home / "out")],
        capture_output=True, text=True, encoding="utf-8", env=environment, cwd=home, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-3000:]
    return json.loads(done.stdout)


def english_in(text: str, english: dict) -> list[str]:
    return sorted(
        f"{section}.{key}: {piece.strip()}"
        for section in SECTIONS
        for key, wording in english[section].items()
        for piece in plain_pieces(wording)
        if piece.strip() in text and accented(piece) != piece
    )


def test_every_answer_is_in_the_language(spoken_in_it, english):
    assert len(spoken_in_it["answers"]) >= 9
    assert english_in(english["server"]["errors.failed"], english), "English would not be noticed"
    for message in spoken_in_it["answers"]:
        assert set(message) & set("áéíóúÁÉÍÓÚ"), message
        assert english_in(message, english) == []


def test_the_page_of_a_pack_is_in_the_language(spoken_in_it, english):
    assert 'lang="cy"' in spoken_in_it["page"]
    assert english_in(spoken_in_it["page"], english) == []


def test_the_verifier_in_a_pack_speaks_the_language_of_its_workshop(spoken_in_it, english):
    assert spoken_in_it["code"] == 0
    assert set(spoken_in_it["verifier"]) & set("áéíóú")
    assert english_in(spoken_in_it["verifier"], english) == []
