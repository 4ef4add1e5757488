"""The verifier's words travel with it, and are never found to be missing only when a fault is to be named."""

from __future__ import annotations

import ast
import io
import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from witnessmark.proof import pyz, sentences, verify
from witnessmark.trade.ground import sentences as catalogue

ROOM = Path(verify.__file__).parent


def calls():
    """(file, line, key, names of the slots filled) of every sentence said in the room."""
    for path in sorted(ROOM.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "say":
                key = node.args[0]
                if isinstance(key, ast.Constant) and None not in {keyword.arg for keyword in node.keywords}:
                    yield path.name, node.lineno, key.value, {keyword.arg for keyword in node.keywords}


@pytest.mark.parametrize(("file", "line", "key", "slots"), list(calls()))
def test_every_sentence_said_has_exactly_the_slots_that_are_filled(file, line, key, slots):
    wording = sentences.section()[key.removeprefix("proof.")]

    assert set(re.findall(r"{([a-z0-9_]+)}", wording)) == slots, f"{file}:{line}"


@pytest.mark.parametrize("language", catalogue.languages())
def test_no_wording_needs_a_plural_form(language):
    section = json.loads((catalogue.FOLDER / f"{language}.json").read_text())["proof"]

    assert [key for key, wording in section.items() if not isinstance(wording, str)] == []


def test_the_verifier_in_a_pack_speaks_the_language_of_the_workshop(monkeypatch, tmp_path):
    own = sentences.section() | {"cli.unreadable": "Nicht lesbar: {reason}."}
    monkeypatch.setattr(sentences, "section", lambda: own)
    (tmp_path / "verify.pyz").write_bytes(pyz.make())
    command = [sys.executable, "-I", "-S", "verify.pyz", "nowhere"]
    printed = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)

    assert (printed.returncode, printed.stderr) == (1, "Nicht lesbar: nowhere does not exist.\n")
    with zipfile.ZipFile(io.BytesIO(pyz.make())) as archive:
        assert json.loads(archive.read(f"witnessmark/proof/{sentences.FILE}")) == own


def test_a_language_that_nobody_wrote_is_refused(monkeypatch):
    monkeypatch.setenv("WITNESSMARK_LANGUAGE", "nowhere")
    sentences.section.cache_clear()
    try:
        with pytest.raises(OSError, match="nowhere"):
            sentences.section()
    finally:
        sentences.section.cache_clear()
