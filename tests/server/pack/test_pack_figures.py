"""The measurement sheets of a pack: what a stranger can work out again from it, and what PDF and page say of it."""

from __future__ import annotations

import json
import re

import pytest

from tests.broken_packs.make import entry_of, read, write
from tests.support import record
from tests.support.packs import files_of
from tests.support.pdf import text_of
from witnessmark.db import reading
from witnessmark.pack import figures, words
from witnessmark.projections import figures as office
from witnessmark.proof import layout
from witnessmark.proof.record import STATEMENTS
from witnessmark.proof.verify import verify
from witnessmark.trade.ground.corrections import fold
from witnessmark.trade.measuring import known
from witnessmark.trade.proposals import all as proposals
from witnessmark.trade.sheets import job_sheets as sheets


@pytest.fixture(scope="module", params=["sealed", "customer"])
def files(packed, request) -> dict[str, bytes]:
    return files_of(getattr(packed, request.param).path)


def entries_of(files: dict[str, bytes]) -> list[dict]:
    return [json.loads(files[path]) for path in sorted(files) if path.startswith(layout.ENTRIES)]


def worked_out_again(files: dict[str, bytes]) -> list[dict]:
    """The sheets as somebody makes them who has nothing but the entries of the pack."""
    entries = entries_of(files)
    own = [entry for entry in entries if entry["job"] is not None]
    read_now = [
        {
            "id": one.entry["id"],
            "exhibit": str(number),
            "place": one.location["place"],
            "point": one.location["point"],
            "body": one.body,
            "claimed": one.entry["claimed"],
        }
        for number, one in enumerate(fold(own), 1)
        if one.entry["kind"] == "measured" and one.withdrawn_by is None
    ]
    return sheets.sheets(engine_of(files), read_now, known.known(entries))


def told_again(files: dict[str, bytes]) -> list[dict]:
    return figures.arranged(worked_out_again(files), engine_of(files), known.known(entries_of(files)))


def engine_of(files: dict[str, bytes]) -> dict:
    return [entry["body"]["engine_type"] for entry in entries_of(files) if entry["kind"] == "engine_type_described"][-1]


def test_a_stranger_works_out_what_the_office_shows(packed, files):
    with reading(packed.office.engine) as conn:
        shown = office.of_job(conn, packed.office.workshop.id, packed.job)
    made = worked_out_again(files)

    assert made == shown["sheets"]
    assert proposals.proposals(made, known.known(entries_of(files)), engine_of(files)) == shown["proposals"]
    assert {sheet["procedure"] for sheet in shown["sheets"]} == {"cylinder_bore", "crankpin", "rod_clearance", ""}


def test_what_the_figures_rest_on_is_in_and_nothing_else_of_the_workshop(files):
    said = [entry for entry in entries_of(files) if entry["kind"] in STATEMENTS]
    limits = [one["body"]["limit"] for one in said if one["kind"] == "limit_set"]

    assert [(limit["procedure"], limit["high"]) for limit in limits] == [
        ("cylinder_bore", "0.045"),
        ("cylinder_bore", "0.060"),
    ]
    assert {one["kind"] for one in said} == set(STATEMENTS) - {"procedure_described", "spoken_word_set"}
    assert all(one["job"] is None for one in said)


def test_a_job_without_figures_brings_no_statement_along(packed, tmp_path):
    phone = packed.office.phone("bay 7")
    job = phone.open_job("24/777", engine_type=record.ENGINE_TYPE_ID)
    phone.note(job)
    record.send(phone)
    other = type(packed)(packed.office, job, None, None, {})
    built = other.cut("sealed", tmp_path / "bare")
    files = files_of(built.path)

    assert verify(built.path).faults == []
    assert not any(entry["kind"] in STATEMENTS for entry in entries_of(files))
    assert 'id="figures"' not in files[layout.PAGE].decode()


def test_a_statement_that_was_left_out_is_missed(packed, tmp_path):
    top, all_files = read(packed.sealed.path)
    del all_files[entry_of(all_files, "size_set")]
    report = verify(write(tmp_path / "without.zip", top, all_files))

    assert any("judged by, named in this pack but not in it: 1." in words for words in report.remarks)
    assert not any("judged by" in words for words in verify(packed.sealed.path).remarks)


def plain(page: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_the_page_says_verdicts_then_and_now_overdue_gauges_and_that_it_is_no_certificate(files):
    page = files[layout.PAGE].decode()
    section = plain(page[page.index('id="figures"') :])

    assert "Cylinder bore, as found" in section and "They are not a certificate." in section
    assert "Bore gauge 4 was due for calibration on 2020-02-03 and gave 12 readings" in section
    assert "by the limits in force now: service limit at most 0.060 mm (Invented manual, edition 3, page 15)" in section
    assert "by the limits in force when it was measured: service limit at most 0.045 mm" in section
    assert "in place of Bore gauge 4" in section or "More readings will not prove it" in section
    assert "guarded acceptance" in section
    # Each verdict has a form of its own besides its word.
    for form in ("outlined", "solid", "hatched"):
        assert f'class="tag {form}"' in page


def test_the_pdf_says_the_same(files):
    text = text_of(files[layout.REPORT])

    assert "Cylinder bore, as found" in text and "Big-end clearance by diameters, as found" in text
    assert "Bore gauge 4 was due for calibration on 2020-02-03" in text
    assert "within limits" in text and "outside limits by" in text and "not proven" in text
    assert "by the limits in force when it was measured" in text


def test_the_words_come_from_the_sheet_alone(packed, files):
    """Every number shown in a table is one of the sheet, and every figure with a value is shown."""
    made = [one for one in worked_out_again(files) if one["procedure"]]
    assert len(made) > 1
    for sheet, told in zip(made, told_again(files), strict=True):
        shown = [
            cell["text"] for part in told["tables"] for row in part["rows"] for cell in row["cells"] if cell["text"]
        ]
        figure_values = [
            figure["value"] for place in sheet["places"] for figure in place["figures"] if figure["value"] is not None
        ]
        means = [reading["mean"] for place in sheet["places"] for reading in place["readings"].values()]
        assert sorted(shown) == sorted(figure_values + means)


def test_what_makes_a_verdict_uncertain_and_what_follows_from_the_figures_stands_under_the_sheet(packed, files):
    """In PDF and page alike: the factor, the budget of each figure that is not within, the proposal with its inputs."""
    bore = next(one for one in told_again(files) if one["title"] == "Cylinder bore, as found")
    sheet = next(one for one in worked_out_again(files) if one["procedure"] == "cylinder_bore")
    page, pdf = plain(files[layout.PAGE].decode()), text_of(files[layout.REPORT])

    judged = {
        f"{place['name']}, {figure['words']}": figure
        for place in sheet["places"]
        for figure in place["figures"]
        if {verdict["standing"] for verdict in [*figure["now"], *(figure["then"] or ())]} & {"outside", "not proven"}
    }
    assert {name for budget in bore["budgets"] for name in budget["of"]} == set(judged)
    for budget in bore["budgets"]:
        lines = judged[budget["of"][0]]["budget"]
        assert [(line["words"], line["u"]) for line in budget["lines"] if line["u"]] == [
            (line["words"], line["u"]) for line in lines if line["u"] != "0"
        ]
    [proposed] = bore["proposals"]
    for shown in (page, pdf):
        assert "k = 2.00 times the standard uncertainty, about 95 %" in shown
        assert words.BUDGETS in shown and words.NOT_COUNTED in shown
        assert f"{bore['budgets'][0]['lines'][0]['share']} %" in shown
        assert proposed["title"] in shown and proposed["cautions"][0] in shown
        assert f"{proposed['inputs'][1]['value']} Invented manual, edition 2, page 12" in shown
    assert proposed["formula"] in page


def test_every_standing_has_its_words_and_its_form():
    assert {name for name, _, _ in words.STANDINGS} == set(words.STANDING.values())
    assert {words.STANDING[standing]: form for standing, form in figures.FORMS.items()} == {
        name: form for name, form, _ in words.STANDINGS
    }
