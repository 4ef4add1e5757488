"""The report of any job can be set: without an engine, without a picture, with very long words and with very many."""

from __future__ import annotations

import io
from datetime import UTC, datetime

import pikepdf
import pytest

from witnessmark.pack import clocks, report
from witnessmark.pack.story import Answer, Exhibit, Story
from witnessmark.pack.typeset import Sheet

MOMENT = datetime(2026, 5, 14, tzinfo=UTC)
PACK = {"made": "2026-05-14T10:42:00.000Z", "server": "ab" * 16}
HEAD = {"root": "cd" * 32, "size": 208, "time": "2026-05-14T10:40:00.000Z"}


def a_record(number: int = 1, kind: str = "note_made", text: str = "Gudgeon pin 3 turns freely.", **more) -> Exhibit:
    body = {"quantity": "bore_diameter", "value": "89.012", "unit": "mm", "gauge": ""} | more.pop("body", {})
    facts = {
        "number": number, "position": number, "kind": kind, "kind_words": "Note", "title": "Note: bore 3", "text": text,
        "place": "bore/3", "place_name": "bore 3", "point": "", "stage": "strip", "offset_ms": 1500, "author": "Ida",
        "claimed": "2026-05-14T10:38:07.120+01:00", "received": "2026-05-14T09:42:51.310Z", "device": "phone A, bay 1",
        "hash": "ef" * 32, "media": [], "body": body, "first_body": body,
    }  # fmt: skip
    return Exhibit(**facts | more)


def a_story(*exhibits: Exhibit, **more) -> Story:
    facts = {"workshop": "Reed (invented)", "job": "j", "number": "24-118", "engine_type": None, "facts": []}
    return Story(**facts | more, exhibits=list(exhibits))


def report_of(story: Story) -> dict:
    return report.report(story, [], "sealed", PACK, "witnessmark", HEAD, False, [], [])


def pages(story: Story) -> int:
    with Sheet() as sheet:
        made = sheet.print(report_of(story), MOMENT)
    with pikepdf.open(io.BytesIO(made)) as pdf:
        return len(pdf.pages)


def test_a_job_with_nothing_but_its_number_can_be_set():
    assert pages(a_story(a_record())) >= 3


def test_a_very_long_note_goes_on_over_the_next_sheets():
    assert pages(a_story(a_record(text="Scored. " * 1000))) >= pages(a_story(a_record())) + 2


def test_words_without_a_space_and_names_of_any_length_stop_nothing():
    story = a_story(a_record(text="x" * 4000), number="9" * 40, workshop="W" * 120, facts=[("vehicle", "v" * 120, 1)])

    assert pages(story) >= 3
    assert all(len(value) <= 46 for value in report_of(story)["block"].values())


def test_a_job_of_a_thousand_measurements_can_be_set():
    many = [a_record(n, "measured", "", title=f"Bore 3: Diameter 89.{n:03d} mm") for n in range(1, 1001)]

    assert pages(a_story(*many)) > 60


def test_a_figure_that_was_corrected_stands_struck_beside_the_new_one():
    slip = a_record(kind="measured", was=("Bore 3: Diameter 89.22 mm", ""), corrections=[Answer(2, "Ida", "Slip.")])
    slip.first_body = slip.body | {"value": "89.22"}
    untouched = a_record(2, kind="measured")

    rows = report_of(a_story(slip, untouched))["measured"]

    assert [(row["was"], row["value"]) for row in rows] == [("89.22 mm", "89.012 mm"), ("", "89.012 mm")]


def test_figures_stand_by_place_in_the_order_one_counts():
    records = [
        a_record(n, "measured", place=place, place_name=place) for n, place in enumerate(("bore/10", "bore/2"), 1)
    ]

    assert [row["place"] for row in report_of(a_story(*records))["measured"]] == ["bore/2", "bore/10"]


@pytest.mark.parametrize(
    ("received", "words"),
    [
        ("2026-05-14T09:42:51.310Z", ""),
        ("2026-05-14T14:42:51.310Z", "claims to have been made 5 h before it was received"),
        ("2026-05-19T09:42:51.310Z", "claims to have been made 5 days before it was received"),
        ("2026-05-14T08:42:51.310Z", "claims to have been made after it was received"),
    ],
)
def test_a_record_that_came_in_late_says_so(received, words):
    assert clocks.late_words(a_record(received=received)) == words


def test_the_clocks_are_told_in_one_sentence_and_decide_nothing():
    clocks = report_of(
        a_story(a_record(offset_ms=1500), a_record(2, offset_ms=-61_000), a_record(3, device="the desk"))
    )

    assert "phone A, bay 1: -61 to +2 s" in clocks["clock_words"]
    assert "desk" not in clocks["clock_words"]
    assert "not measured" in report_of(a_story(a_record(offset_ms=None)))["clock_words"]


def test_a_cut_in_the_work_shows_in_the_headings():
    later = a_record(2, received="2026-05-15T08:00:00.000Z")

    assert [part["title"] for part in report_of(a_story(a_record(), later))["parts"]] == [
        "Strip, received 14 May 2026",
        "Strip, received 15 May 2026",
    ]


def test_no_phones_clock_decides_what_a_record_stands_under():
    wrong = a_record(2, claimed="2027-01-01T08:00:00.000+01:00")

    assert [part["title"] for part in report_of(a_story(a_record(), wrong))["parts"]] == ["Strip, received 14 May 2026"]


@pytest.mark.parametrize(
    ("offset_ms", "words"),
    [
        (None, ""),
        (60_000, ""),
        (-60_000, ""),
        (60_001, "that time set right by the server's clock: 2026-05-14 10:39:07 +01:00"),
        (-7_387_120, "that time set right by the server's clock: 2026-05-14 08:35:00 +01:00"),
    ],
)
def test_the_time_of_a_clock_that_was_off_by_more_than_a_minute_is_set_right_beside_it(offset_ms, words):
    one = a_record(claimed="2026-05-14T10:38:07.120+01:00", offset_ms=offset_ms)

    assert clocks.set_right_words(one) == words
    assert [remark for remark in clocks.time_remarks(one) if "set right" in remark] == ([words] if words else [])
