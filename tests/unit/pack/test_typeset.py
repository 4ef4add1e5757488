"""The report can be set whatever people write: no character may stop a pack from being cut."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime

import pytest
import typst

from witnessmark.pack.typeset import SETTABLE, STANDARDS, NotSet, Sheet, fonts_folder, printable

MOMENT = datetime(2026, 5, 14, tzinfo=UTC)


def test_every_character_that_is_passed_on_can_really_be_set(tmp_path):
    """PDF/A refuses a character without a shape, so this fails if one of them has none (ISO 19005-3, 6.2.11.8)."""
    points = "".join(map(chr, sorted(SETTABLE)))
    (tmp_path / "words.txt").write_text(points)
    (tmp_path / "all.typ").write_text(
        '#set document(title: "all")\n#set text(font: ("Atkinson Hyperlegible Next", "DejaVu Sans Mono"), lang: "en")\n'
        '#read("words.txt")\n#text(font: ("Atkinson Hyperlegible Mono", "DejaVu Sans Mono"), read("words.txt"))'
    )

    made = typst.compile(
        str(tmp_path / "all.typ"), font_paths=[str(fonts_folder())], ignore_system_fonts=True, pdf_standards=STANDARDS
    )

    assert made.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("Ölfilm fehlt, ±0.02 µm", "Ölfilm fehlt, ±0.02 µm"),
        ("Коренной подшипник 4", "Коренной подшипник 4"),
        ("清洗", "[U+6E05][U+6D17]"),
        ("a\u202eb", "a[U+202E]b"),
        ("one\ntwo\tthree", "one two three"),
        ("\N{WRENCH}", "[U+1F527]"),
        ("\x00", "[U+0000]"),
    ],
)
def test_what_no_font_can_show_is_named_by_its_number(written, shown):
    assert printable(written) == shown


def test_a_report_that_cannot_be_set_says_what_the_typesetter_said():
    with Sheet() as sheet, pytest.raises(NotSet) as refused:
        sheet.print({"no": "report"}, MOMENT)

    code, last_words = refused.value.args
    assert code == 1 and "labels" in last_words


def test_the_typesetter_is_not_loaded_into_the_server():
    """What it keeps would stay in the worker for months."""
    code = "import sys, witnessmark.app, witnessmark.tasks.worker; print('typst' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout == "False\n"
