"""What is said in the workshop becomes a proposal: what was said stays as it was said, what was not is asked for."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.spoken.chance import ENGINES, OWN, SCREENS, cases
from tests.spoken.words import every_word
from tests.support.cases import all_cases
from witnessmark.trade.engine.locations import codes
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES, UNITS
from witnessmark.trade.spoken import parse as spoken

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "spoken.json").read_text())
BY_NAME = {engine["name"]: engine for engine in ENGINES} | {None: None}
ANY = VECTORS["screens"]["any"]
BORE = VECTORS["screens"]["bore 3 top thrust"]
V6 = BY_NAME["Halvern 2.9 V6"]


def unsaid(screen):
    return {
        "place": screen["place"], "place_spoken": False, "point": screen["point"], "quantity": screen["quantity"],
        "quantity_spoken": False, "value": "", "value_to": "", "unit": "", "conditions": [], "disposition": "",
        "asks": [], "maybe": [], "withdrawn": False, "left": [],
    }  # fmt: skip


@all_cases("case", VECTORS["cases"], ids=lambda case: f"{case['text']} [{case['screen']}]")
def test_what_is_read_in_a_line(case):
    screen, engine = VECTORS["screens"][case["screen"]], BY_NAME[case["engine"]]
    proposal = spoken.read(case["text"], screen, engine, VECTORS["own"] if case.get("own") else [])
    assert proposal == {**unsaid(screen), **case["is"]}
    assert spoken.complete(proposal, screen) == case["complete"]
    if "said" in case:
        assert spoken.in_words(proposal, engine) == case["said"]


@all_cases("case", VECTORS["chance"], ids=lambda case: f"{case['number']}: {case['text']}")
def test_the_lines_kept_of_those_made_by_chance_are_read_as_they_were(case):
    engine = None if case["engine"] is None else ENGINES[case["engine"]]
    proposal = spoken.read(case["text"], case["screen"], engine, case["own"])
    assert proposal == case["proposal"]
    assert (spoken.complete(proposal, case["screen"]), spoken.in_words(proposal, engine)) == (
        case["complete"],
        case["said"],
    )


@all_cases(
    ("gap", "text"),
    [
        ("no point said", "eighty eight nine four millimetres"),
        ("two decimals more after a stop", "eighty eight, ninety four millimetres"),
        ("no unit", "eighty eight point nine four"),
        ("a unit of another kind", "eighty eight point nine four bar"),
        ("a unit that may be two", "four mil"),
        ("a range", "fifteen to twenty thou"),
        ("a cylinder that is not there", "bore nine eighty eight point nine four millimetres"),
        ("place and share run together by a recogniser", "cylinder 68 mm"),
        ("a figure that is no reading", "the book says eighty eight point nine four millimetres"),
        ("about so much", "about eighty eight point nine four millimetres"),
        ("another figure of the sheet", "ovality point nine four millimetres"),
        ("talk", "hand me the ten millimetre spanner would you"),
        ("a figure said twice", "eighty eight point nine four no nine five millimetres"),
        ("two bores", "bore three and bore four eighty eight point nine four millimetres"),
    ],
)
def test_what_can_be_taken_in_two_ways_is_never_ready_to_be_recorded(gap, text):
    assert not spoken.complete(spoken.read(text, BORE, V6, []), BORE), gap


# An account of the digits in a text by another hand: each word with the digits it can put into a number, nothing else.
WORTH = {
    "one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9",
    "ten": "1", "eleven": "11", "twelve": "12", "thirteen": "13", "fourteen": "14", "fifteen": "15", "sixteen": "16",
    "seventeen": "17", "eighteen": "18", "nineteen": "19", "twenty": "2", "thirty": "3", "forty": "4", "fifty": "5",
    "sixty": "6", "seventy": "7", "eighty": "8", "ninety": "9", "a": "1", "an": "1", "half": "125", "quarter": "1425",
    "quarters": "475", "third": "13", "thirds": "3", "eighth": "18", "eighths": "8", "sixteenth": "116",
    "sixteenths": "16", "tenth": "1", "hundredth": "1",
}  # fmt: skip


def digits_in(text: str) -> Counter[str]:
    """How often each digit but 0 can be in what was said."""
    digits: Counter[str] = Counter(re.findall("[1-9]", text))
    for sign, worth in (
        ("\u00bd", "125"),
        ("\u00bc", "1425"),
        ("\u00be", "3475"),
        ("1/2", "5"),
        ("1/4", "25"),
        ("3/4", "75"),
    ):
        for digit in worth:
            digits[digit] += text.count(sign)
    for sign, worth in (("\u215b", "18"), ("\u215c", "38"), ("\u215d", "58"), ("\u215e", "78")):
        for digit in worth:
            digits[digit] += text.count(sign)
    before = ""
    for word in re.findall("[a-z]+", text.lower().replace("\u212a", "k")):
        times = {"double": 2, "triple": 3, "treble": 3}.get(before, 1)
        for digit in WORTH.get(word, ""):
            digits[digit] += times
        before = word
    return digits


WORD = st.sampled_from(
    [*every_word(), *every_word(), "88.94", "1/2", "3-1/2", "1,200", "%", ",", ".", "#", "no.", "mm"]
)
LINE = st.lists(WORD, max_size=14).map(" ".join) | st.text(max_size=60)
NUMBERS = (
    *WORTH, "point", "and", "oh", "hundred", "thousand", "double", "thou", "to", "bore", "millimetres", "minus",
    "reads", "no", "cylinder", "0.5", "12",
)  # fmt: skip
NUMBERED = st.lists(st.sampled_from(NUMBERS), max_size=12).map(" ".join)


@settings(max_examples=300, deadline=None)
@given(
    text=LINE | NUMBERED,
    screen=st.sampled_from(SCREENS).map(lambda at: {**at, "procedure": "", "reading": "", "units": []}),
    engine=st.sampled_from([None, *ENGINES]),
    own=st.sampled_from([[], OWN]),
)
def test_whatever_is_said_no_digit_no_unit_and_no_place_comes_from_anywhere_else(text, screen, engine, own):
    proposal = spoken.read(text, screen, engine, own)
    digits = digits_in(text)
    for value in [proposal["value"], proposal["value_to"], *proposal["maybe"]]:
        used = Counter(re.findall("[1-9]", value))
        assert used <= digits, (value, text)
        assert re.fullmatch(r"(-?[0-9]+(\.[0-9]+)?( [0-9]+/[0-9]+)?|-?[0-9]+/[0-9]+|)", value), value
    assert proposal["unit"] == "" or proposal["unit"] in UNITS
    if engine is not None and proposal["place_spoken"]:
        # A place that was spoken of and is not there is none, and never the one on the screen.
        assert proposal["place"] in codes(engine) | {""}
    if not proposal["place_spoken"]:
        assert proposal["place"] in ("", screen["place"])
    if spoken.complete(proposal, screen):
        assert proposal["place"] and not proposal["asks"]
        if proposal["value"] and screen["sort"] in ("measure", "tighten"):
            assert UNITS[proposal["unit"]]["kind"] == QUANTITIES[proposal["quantity"]]["kind"]
    assert spoken.in_words(proposal, engine) is not None
    json.dumps(proposal)


def test_a_unit_is_there_only_when_one_was_said():
    judged = 0
    for case in cases(20_000, 1500):
        text = case["text"].lower()
        signs = {"mm": ("mm", "m m", "millimet"), "N·m": ("newton", "nm", "n·m"), "thou": ("thou",), "%": ("%", "cent")}
        wanted = signs.get(case["proposal"]["unit"])
        assert wanted is None or any(sign in text for sign in wanted), text
        judged += wanted is not None
    assert judged > 100, "hardly a line had a unit"


def test_more_than_anybody_says_in_one_breath_is_talk():
    proposal = spoken.read("bore three diameter eighty eight point nine four millimetres " * 30, ANY, V6, [])
    assert proposal["asks"] == ["again"]
    assert not spoken.complete(proposal, ANY)


def test_the_screen_names_are_those_of_real_procedures():
    built_in = {procedure["code"]: procedure for procedure in table("procedures")["procedures"]}
    for screen in VECTORS["screens"].values():
        assert screen["procedure"] == "" or screen["procedure"] in built_in
