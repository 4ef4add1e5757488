"""Threads and preload: geometry, strength, estimate, words. Vectors shared with the phone; published: tests/outside."""

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.units import decimal_text, to_si
from witnessmark.trade.tightening import preload, threads
from witnessmark.trade.tightening import preload_estimate as preload_said
from witnessmark.trade.tightening import sheets as tightening_sheets
from witnessmark.trade.tightening.threads import INCH, MM

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "preload.json").read_text())
LENGTHS = ("diameter", "pitch", "pitch_diameter", "minor_diameter", "root_diameter", "stress_diameter", "bearing")
ROWS = [(size, pitch) for size, row in threads.METRIC.items() for pitch in row["pitches"]]
FRICTION = st.integers(1, 60).map(lambda n: Fraction(n, 100))


def shown(amount, scale):
    return None if amount is None else decimal_text(amount * scale, 9)


def three(spread):
    return [shown(force, Fraction(1, 1000)) for force in (spread.usual, spread.low, spread.high)]


@all_cases("case", VECTORS["threads"], ids=lambda case: f"{case['size']} {case['beside']}")
def test_a_thread_as_it_is_called(case):
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            threads.thread(case["size"], case["beside"])
        assert refused.value.message == case["refused"]
        return
    thread = threads.thread(case["size"], case["beside"])
    assert [shown(getattr(thread, name), 1000) for name in LENGTHS] == [case[name] for name in LENGTHS]
    assert shown(thread.stress_area, 10**6) == case["stress_area"]
    for name in ("words", "form", "bearing_known", "usual", "coarse"):
        assert getattr(thread, name) == case[name], name


@all_cases("case", VECTORS["strengths"], ids=lambda case: f"{case['code']} {case['diameter']}")
def test_the_strength_of_a_class(case):
    strength = threads.strength(case["code"], Fraction(case["diameter"]) * MM)
    stresses = strength and [
        shown(stress, Fraction(1, 10**6)) for stress in (strength.tensile, strength.yields, strength.proof)
    ]
    assert (strength and [strength.code, *stresses]) == case["strength"]


@all_cases("case", VECTORS["estimates"], ids=lambda case: f"{case['size']} {case['torque']} {case['state']}")
def test_an_estimate_with_its_spread(case):
    of = threads.thread(case["size"], case["pitch"])
    strong = threads.strength(case["class"], of.diameter)
    torque = to_si(Fraction(case["torque"]), case["unit"])
    if "refused" in case:
        with pytest.raises(Refusal) as refused:
            preload.estimate(torque, of, preload.friction_of(case["state"], case["friction"]), strong)
        assert refused.value.message == case["refused"]
        return
    friction = preload.friction_of(case["state"], case["friction"])
    assert (friction.condition, [friction.k_typed, friction.typed]) == (case["condition"], case["typed"])
    made = preload.estimate(torque, of, friction, strong)
    assert (three(made.short), three(made.long)) == (case["short"], case["long"])
    assert [shown(stress, Fraction(1, 1000)) for stress in (made.proof, made.yields, made.breaks)] == case["loads"]
    full = preload.at_yield(of, strong.yields, friction.thread.usual) if strong else None
    assert shown(full, Fraction(1, 1000)) == case["at_yield"]
    assert (preload.too_much(made, of, strong) or None) == case["too_much"]
    assert preload.force_text(made.short.usual, of) == case["text"]


@pytest.mark.parametrize("case", VECTORS["advances"], ids=str)
def test_the_advance_of_a_nut_that_spins_freely(case):
    advance = preload.advance(Fraction(case["pitch"]) * MM, Fraction(case["degrees"]))
    assert shown(advance, 1000) == case["advance"]


@all_cases("case", VECTORS["sheets"], ids=lambda case: case["name"])
def test_what_is_said_of_a_sheet(case):
    assert preload_said.of_sheet(case["sheet"]) == case["said"]
    faults = [[fault.where, fault.message] for fault in preload_said.beyond_thread(case["sheet"])]
    assert faults == case["beyond"]


@all_cases(("size", "pitch"), ROWS)
def test_each_thread_of_the_table(size, pitch):
    thread = threads.thread(size, pitch)
    assert thread.usual and not thread.coarse
    assert 0 < thread.root_diameter < thread.minor_diameter < thread.pitch_diameter < thread.diameter < thread.bearing
    assert thread.stress_diameter == (thread.pitch_diameter + thread.root_diameter) / 2


@all_cases("size", threads.UNIFIED)
@all_cases("series", ["UNC", "UNF"])
def test_each_unified_thread_of_the_table(size, series):
    thread = threads.thread(f"{size} {series}")
    assert thread.usual and thread.words.endswith(series)
    assert thread.diameter == Fraction(threads.UNIFIED[size]["diameter"]) * INCH
    assert threads.thread(thread.words) == thread


def test_the_coarse_pitch_is_the_coarsest_and_is_taken_when_none_is_said():
    for size, row in threads.METRIC.items():
        pitches = [Fraction(pitch) for pitch in row["pitches"]]
        assert pitches == sorted(pitches, reverse=True)
        thread = threads.thread(size)
        assert thread.coarse and thread.pitch == pitches[0] * MM


def test_every_class_is_stronger_than_its_proof_stress():
    for bolt_class in threads.CLASSES:
        assert [Fraction(step[0]) for step in bolt_class["steps"]] == sorted(
            Fraction(step[0]) for step in bolt_class["steps"]
        )
        for _, tensile, yields, proof in bolt_class["steps"]:
            assert Fraction(proof) < Fraction(yields) < Fraction(tensile)


def test_every_state_of_a_sheet_has_its_friction():
    assert set(preload.STATES) == set(tightening_sheets.STATES)
    assert set(preload.STATES.values()) <= set(preload.CONDITIONS)
    for condition in preload.CONDITIONS.values():
        for usual, low, high in (condition["k"], condition["friction"]):
            assert 0 < Fraction(low) < Fraction(usual) < Fraction(high)


@given(row=st.sampled_from(ROWS), torque=st.integers(1, 500), k=FRICTION, rubs=st.tuples(FRICTION, FRICTION))
def test_torque_and_preload_go_both_ways_and_friction_only_takes_away(row, torque, k, rubs):
    of = threads.thread(*row)
    typed = {"k": decimal_text(k, 2), "thread": decimal_text(rubs[0], 2), "head": decimal_text(rubs[1], 2)}
    made = preload.estimate(Fraction(torque), of, preload.friction_of("", typed), None)
    assert made.short.usual * k * of.diameter == torque == made.long.usual * preload.lever(of, *rubs)
    for spread in (made.short, made.long):
        assert spread.low < spread.usual < spread.high
    assert made.long.high < torque / (of.pitch / (2 * threads.PI)), "what a thread without friction would give"
    twice = preload.estimate(Fraction(2 * torque), of, preload.friction_of("", typed), None)
    assert twice.long.usual == 2 * made.long.usual


@given(row=st.sampled_from(ROWS), rubs=st.tuples(FRICTION, FRICTION).filter(lambda two: two[0] < two[1]))
def test_twist_takes_more_of_the_bolt_the_more_friction_there_is(row, rubs):
    of, yields = threads.thread(*row), Fraction(640 * 10**6)
    less, more = (preload.at_yield(of, yields, rub) for rub in rubs)
    assert 0 < more < less < of.stress_area * yields * preload.FULL_USE


@given(size=st.text(max_size=20), pitch=st.sampled_from(["", "1", "1.25", "0.0001", "99"]))
def test_whatever_a_thread_is_called_it_is_read_or_refused_in_words(size, pitch):
    try:
        assert threads.thread(size, pitch).stress_area > 0
    except Refusal as refusal:
        assert refusal.message.endswith(".")
