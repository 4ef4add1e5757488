"""What a screen can hear is what the parser can read: every line of a grammar comes back as what it was made from."""

from __future__ import annotations

import json
import random
import re
from hashlib import sha256
from pathlib import Path

import pytest

from tests.bench.speech.lines import LINES
from tests.support.cases import all_cases
from tests.unit.trade.spoken.make_spoken_grammar_vectors import CASES, ENGINES, FOUR, OWN, V6, screen
from witnessmark.trade.engine.locations import codes
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES
from witnessmark.trade.spoken import parse as spoken
from witnessmark.trade.spoken.grammar import dictionary, grammar, rules_for, words_of

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "spoken_grammar.json").read_text())
MEASURING = [screen("measure", "", code) for code, quantity in QUANTITIES.items() if quantity["parts"]]
DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
TENS = ["-", "-", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]


def figures(words: list[str]) -> str:
    """Digits of a spoken number, read by another and simpler hand than the parser's; '' where a point may be lost."""
    minus, words = ("-", words[1:]) if words[0] == "minus" else ("", words)
    half = words[-3:] == ["and", "a", "half"]
    whole, point, after = " ".join(words[:-3] if half else words).partition("point")
    number_words = [word for word in whole.split() if word != "and"]
    tail = "".join(digit(word) for word in after.split())
    if len(number_words) == 2 and number_words[0] == number_words[1] in DIGITS and not point and not half:
        return ""  # "two two": two, said twice?
    if len(number_words) > 1 and all(word in (*DIGITS, "oh", "nought") for word in number_words):
        joined = "".join(digit(word) for word in number_words)
    elif len(number_words) > 2 and "hundred" not in number_words and "thousand" not in number_words:
        return ""
    else:
        joined = str(total(number_words)) if number_words else "0"
    return f"{minus}{joined}" + (".5" if half else f".{tail}" if point else "")


def digit(word: str) -> str:
    return "0" if word in ("oh", "nought") else str(DIGITS.index(word))


def total(words: list[str]) -> int:
    value = under = 0
    for word in words:
        if word == "thousand":
            value, under = (under or 1) * 1000, 0
        elif word == "hundred":
            under = (under or 1) * 100
        elif word in TENS:
            under += 10 * TENS.index(word)
        elif word in TEENS:
            under += 10 + TEENS.index(word)
        else:
            under += 1 if word == "a" else int(digit(word))
    return value + under


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_the_grammar_of_a_screen_is_what_the_vectors_hold(case):
    text = grammar(case["screen"], ENGINES.get(case["engine"]), case["own"])
    words = words_of(text)
    whole = {"grammar": text, "words": "\n".join(words), "dictionary": dictionary(words, case["own"])}
    for key, its in whole.items():
        assert its.splitlines() == case.get("lines", {}).get(key, its.splitlines())
        assert sha256(its.encode()).hexdigest() == case["sha256"][key], key


@pytest.mark.parametrize("thousands", [False, True])
def test_every_number_that_can_be_heard_is_read_digit_for_digit(thousands):
    at = screen("measure", "bore/3", "air_pressure" if thousands else "diameter")
    rules, chance = rules_for(at, ENGINES[V6], []), random.Random(7)
    unit = "kilopascals" if thousands else "millimetres"
    for _ in range(250):
        words, _ = rules.walk("number", chance)
        read = spoken.read(f"reads {' '.join(words)} {unit}", at, ENGINES[V6])
        assert read["value"] == figures(words), words
        assert read["value"] or "digits" in read["asks"], words


@all_cases("at", MEASURING, ids=lambda at: at["quantity"])
@all_cases("engine", [V6, FOUR])
def test_no_slot_of_a_line_comes_back_as_another(engine, at):
    """What is doubtful may be asked for; it is never taken for something else."""
    rules, chance, places = rules_for(at, ENGINES[engine], []), random.Random(at["quantity"]), codes(ENGINES[engine])
    for _ in range(15):
        words, tags = rules.walk("line", chance)
        line = " ".join(words)
        meant = dict(tag.split(" ", 1) for tag in tags)
        read = spoken.read(line, at, ENGINES[engine])
        assert read["unit"] in ("", meant.get("unit")), line
        assert read["quantity"] in ("", meant.get("quantity", at["quantity"])), line
        assert read["place"] == "" or read["place"] in places, line
        if read["place"] and "part" in meant and "index" in meant:
            part, *indices = read["place"].split("/")
            assert part == meant["part"] and meant["index"] in indices, line
            assert meant.get("side", "") in ("", *indices), line
        assert set(read["left"]) <= {"mil", "mils", "pounds", "newtons", "play", "float"}, line


def test_most_lines_of_a_measuring_screen_are_whole_proposals():
    at = screen("measure", "bore/3", "diameter", "cylinder_bore")
    rules, chance = rules_for(at, ENGINES[V6], []), random.Random(3)
    lines = [rules.walk("line", chance) for _ in range(150)]
    readings = [(" ".join(words), tags) for words, tags in lines if any(tag.startswith("unit") for tag in tags)]
    whole = sum(spoken.complete(spoken.read(line, at, ENGINES[V6]), at) for line, _ in readings)
    assert whole / len(readings) > 0.85


@pytest.mark.parametrize("engine", [V6, FOUR])
def test_a_finding_keeps_its_state_and_what_is_to_be_done(engine):
    at = screen("finding")
    rules, chance = rules_for(at, ENGINES[engine], []), random.Random(9)
    for _ in range(150):
        words, tags = rules.walk("line", chance)
        line, read = " ".join(words), spoken.read(" ".join(words), at, ENGINES[engine])
        states = {tag.split(" ", 1)[1] for tag in tags if tag.startswith("condition ")}
        assert set(read["conditions"]) <= states, line
        if not {"not", "no"} & set(words):
            assert bool(read["conditions"]) == bool(states), line
            do = [tag.split(" ", 1)[1] for tag in tags if tag.startswith("disposition ")]
            assert read["disposition"] in ("", *do), line


def ends(rules, ways, words: list[str], at: int) -> set[int]:
    """Where a piece of the grammar can end that begins at a word; empty when it cannot be said there."""
    last = set()
    for way in ways[1]:
        here = {at}
        for sort, piece in way:
            if sort == "word":
                here = {end + 1 for end in here if end < len(words) and words[end] == piece}
            elif sort != "tag":
                inner = rules.ways_of(piece) if sort == "rule" else piece
                here = {further for end in here for further in ends(rules, inner, words, end)}
        last |= here
    return last


@all_cases("line", [line for line in LINES if line.sort in ("measure", "finding")], ids=lambda line: line.words)
def test_every_line_of_the_benchmark_can_be_heard_on_its_screen(line):
    """The lines were written by somebody else than the grammar. Of words that sound alike the grammar has one."""
    words = line.words.replace("con rod", "conrod").replace("leak down", "leakdown").split()
    rules = rules_for(line.screen(), ENGINES[line.engine], [])
    assert len(words) in ends(rules, rules.ways_of("line"), words, 0)


def test_a_place_that_the_engine_has_not_cannot_be_heard():
    text = grammar(screen("measure", "bore/3", "diameter", "cylinder_bore"), ENGINES[FOUR])
    count = next(line for line in text.splitlines() if line.startswith("<count_cylinder>"))
    assert count == "<count_cylinder> = one | two | three | four;"
    assert "carburettor" not in words_of(grammar(screen("finding"), ENGINES[FOUR]))
    assert "carburettor" in words_of(grammar(screen("finding"), ENGINES[V6]))


def test_a_screen_can_hear_another_place_and_that_it_was_taken_back():
    for at in (screen("measure", "bore/3", "diameter", "cylinder_bore"), screen("finding", "bore/3")):
        text = grammar(at, ENGINES[V6])
        assert "<place_bore>" in text and "no scrap that" in text
    assert "piston" in words_of(grammar(screen("finding", "bore/3"), ENGINES[V6]))


def test_nothing_in_a_grammar_depends_on_a_size_or_a_limit():
    """Same screen, same engine but for its name, notes and firing order: the same grammar, word for word."""
    at = screen("measure", "bore/3", "diameter", "cylinder_bore")
    other = {**ENGINES[V6], "name": "other", "notes": "nominal 93.00 mm", "firing_order": [6, 5, 4, 3, 2, 1]}
    assert grammar(at, other) == grammar(at, ENGINES[V6])


@all_cases("case", CASES, ids=lambda case: case[0])
def test_every_word_of_a_grammar_is_in_its_dictionary(case):
    _, at, engine, own = case
    words = words_of(grammar(at, ENGINES.get(engine), own))
    listed = {line.split()[0].partition("(")[0] for line in dictionary(words, own).splitlines()}
    assert listed == set(words)


def test_own_words_are_heard_where_they_mean_something_and_unknown_sounds_never():
    bore = grammar(screen("measure", "bore/3", "diameter", "cylinder_bore"), ENGINES[V6], OWN)
    assert {"big_pot", "halvern"} <= set(words_of(bore)) and "pot_hole" not in words_of(bore)
    rules = grammar(screen("finding"), ENGINES[V6], OWN)
    assert {"pot_hole", "skip_it", "big_pot"} <= set(words_of(rules)) and "zzyzx" not in words_of(rules)


def test_no_decoder_meets_an_empty_choice_whatever_part_is_spoken_of():
    # JSGF 1.0, 4.1: an alternative is an expansion; what may be left out is said by <NULL>.
    parts = [part["code"] for part in table("parts")["parts"]]
    empty = re.compile(r"/[0-9]+/\s*[|);]|[(|=]\s*[|);]|^\s*;", re.MULTILINE)
    assert [part for part in parts if empty.search(grammar(screen("any", part), ENGINES[V6], []))] == []
