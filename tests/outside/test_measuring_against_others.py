"""Units and figures against `pint`, published factors and what manuals print; the source stands beside each check.

The manuals' figures are those of other people's engines. They test the sums; nothing here is a limit of this program.
"""

from __future__ import annotations

import math
from fractions import Fraction

import pint
import pytest

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.units import QUANTITIES, UNITS, convert, decimal_text, read, read_quantity, to_si
from witnessmark.trade.measuring.figures import Figure, Input, evaluate
from witnessmark.trade.measuring.procedures import BUILT_IN, check
from witnessmark.trade.proposals.machining import machine

PINT = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
# Code of data/quantities.json -> the same unit as pint calls it, and what the table counts as SI of that kind.
CALLED = {
    "m": ("metre", "metre"), "mm": ("millimetre", "metre"), "um": ("micrometre", "metre"), "in": ("inch", "metre"),
    "thou": ("thou", "metre"), "N·m": ("newton * metre", "newton * metre"),
    "lbf·ft": ("force_pound * foot", "newton * metre"), "lbf·in": ("force_pound * inch", "newton * metre"),
    "kgf·m": ("force_kilogram * metre", "newton * metre"), "Pa": ("pascal", "pascal"), "kPa": ("kilopascal", "pascal"),
    "bar": ("bar", "pascal"), "psi": ("psi", "pascal"), "kgf/cm²": ("force_kilogram / centimetre ** 2", "pascal"),
    "cm³": ("centimetre ** 3", "metre ** 3"), "in³": ("inch ** 3", "metre ** 3"), "°C": ("degC", "kelvin"),
    "°F": ("degF", "kelvin"), "°": ("degree", "degree"), "%": ("percent", "dimensionless"),
    "r/min": ("revolution / minute", "revolution / minute"), "g": ("gram", "kilogram"), "kg": ("kilogram", "kilogram"),
    "V": ("volt", "volt"), "": ("dimensionless", "dimensionless"),
}  # fmt: skip


@all_cases("unit", UNITS)
def test_every_unit_is_as_large_as_pint_says(unit):
    theirs, si = CALLED[unit]
    for amount in (Fraction(1), Fraction(5202, 100), Fraction(-3, 1000)):
        judged = PINT.Quantity(float(amount), theirs).to(si).magnitude
        assert math.isclose(float(to_si(amount, unit)), judged, rel_tol=1e-13, abs_tol=1e-15), amount


def test_a_mil_is_a_thou_here_although_pint_does_not_take_it_for_a_length():
    with pytest.raises(pint.DimensionalityError):
        PINT.Quantity(4, "mil").to("millimetre")
    assert read("4 mil").unit == "thou"
    assert math.isclose(PINT.Quantity(4, "thou").to("millimetre").magnitude, float(convert(Fraction(4), "thou", "mm")))


# International yard and pound (1959): inch 25.4 mm, pound 0.45359237 kg; standard gravity 9.80665 m/s2 (CGPM 1901);
# NIST SP 811 (2008) appendix B, from memory; the first digits also navalfacilities.tpub.com/1004_6/1004_60046.htm.
INCH, LBF = Fraction(254, 10000), Fraction("0.45359237") * Fraction("9.80665")
EXACT = {
    "in": INCH, "thou": INCH / 1000, "in³": INCH**3, "lbf·ft": LBF * 12 * INCH, "lbf·in": LBF * INCH,
    "psi": LBF / INCH**2, "kgf·m": Fraction("9.80665"), "kgf/cm²": Fraction("98066.5"), "bar": Fraction(100000),
}  # fmt: skip


@all_cases("unit", EXACT)
def test_factors_are_exact_fractions_and_no_rounded_decimals(unit):
    assert to_si(Fraction(1), unit) == EXACT[unit]


# Worked from the factors above by hand and by pint.
WORKED = [
    ("65 lbf·ft", "N·m", "88.128167"), ("100 N·m", "lbf·ft", "73.756215"), ("120 lbf·in", "lbf·ft", "10.000000"),
    ("8 kgf·m", "N·m", "78.453200"), ("75 lbf·ft", "kgf·m", "10.369122"), ("150 psi", "bar", "10.342136"),
    ("10 bar", "psi", "145.037738"), ("302 in³", "cm³", "4948.893328"), ("-40 °F", "°C", "-40.000000"),
    ("20 °C", "°F", "68.000000"), ("300 °F", "°C", "148.888889"),
]  # fmt: skip


@all_cases(("typed", "into", "expected"), WORKED)
def test_conversions_come_out_as_published(typed, into, expected):
    reading = read(typed)
    assert decimal_text(convert(reading.amount, reading.unit, into), 6) == expected


TYPED = [
    ("2.2440 in", Fraction(22440, 10000), "in", 4),
    ("57,02", Fraction(5702, 100), "", 2),
    ("+0.02", Fraction(2, 100), "", 2),
    ("4 thou", Fraction(4), "thou", 0),
    ("3 1/2 thou", Fraction(7, 2), "thou", None),
]


@pytest.mark.parametrize(("text", "amount", "unit", "places"), TYPED)
def test_what_was_typed_is_read_to_the_last_digit_and_kept_as_it_was(text, amount, unit, places):
    reading = read(text)
    assert (reading.text, reading.amount, reading.unit, reading.places) == (text, amount, unit, places)


@pytest.mark.parametrize("text", ["", "fifty", "4 furlongs", "1.2.3", "57.02 mm mm", "3 1/0 thou", "1e-3"])
def test_what_cannot_be_read_is_refused_in_place(text):
    with pytest.raises(Refusal) as refused:
        read(text)
    assert refused.value.where in ("value", "unit")


# 10 thou is 0.254 mm by the inch of 1959; a metric undersize is sold as 0.250 mm. Labels are no measurements.
LABELS = [("10", "0.254"), ("20", "0.508"), ("30", "0.762"), ("40", "1.016"), ("60", "1.524")]


@pytest.mark.parametrize(("thou", "mm"), LABELS)
def test_a_step_of_ten_thou_is_no_quarter_of_a_millimetre(thou, mm):
    assert convert(read(f"{thou} thou").amount, "thou", "mm") == Fraction(mm)
    assert convert(Fraction(thou), "thou", "mm") != Fraction(thou) / 40


def test_a_quarter_of_a_millimetre_is_never_turned_into_ten_thou():
    reading = read_quantity("diameter", "0.250 mm")
    assert (reading.text, reading.unit) == ("0.250 mm", "mm")
    in_thou = convert(reading.amount, "mm", "thou")
    assert in_thou == Fraction(25000, 2540)
    assert decimal_text(in_thou, 3) == "9.843"
    clearances = figures("piston_clearance", "mm", skirt="59.750", bore_least="60.000", bore_most="60.000")
    (only,) = [figure for figure in clearances if figure.code == "least_clearance"]
    assert (only.unit, only.amount) == ("mm", Fraction(250, 1_000_000))


def inputs(unit: str, given: dict[str, str]) -> dict[str, Input]:
    taken = {}
    for name, text in given.items():
        reading = read(text, unit if text[-1].isdecimal() else None)
        taken[name] = Input(to_si(reading.amount, reading.unit), reading.unit, reading.places)
    return taken


def figures(code: str, unit: str, grid: dict[str, str] | None = None, **beside: str) -> list[Figure]:
    return evaluate(BUILT_IN[code], inputs(unit, {**(grid or {}), **beside}), {})


def figure(worked: list[Figure], code: str) -> Fraction:
    amount = next(line.amount for line in worked if line.code == code)
    assert amount is not None, code
    return amount


MICRON = Fraction(1, 1_000_000)
# Roundness: at each height the difference of two directions, the largest of these. Cylindricity: in each direction
# largest less smallest over the heights, the larger. Defined so in two service manuals of diesel engines
# (manualarchiveguide.com/manuals/Yanmar-3JH4E, page 198; the same text for an industrial diesel, page 110). The
# readings are made up, the results worked by hand.
TWO_WAYS = {
    "top/thrust": "86.032", "middle/thrust": "86.021", "bottom/thrust": "86.012",
    "top/axial": "86.045", "middle/axial": "86.028", "bottom/axial": "86.014",
}  # fmt: skip


def test_roundness_and_cylindricity_are_what_the_manuals_define():
    worked = figures("cylinder_bore", "mm", TWO_WAYS)
    assert figure(worked, "ovality") == 13 * MICRON
    assert figure(worked, "taper") == 31 * MICRON
    assert figure(worked, "largest") - figure(worked, "smallest") == 33 * MICRON  # neither of the two


def test_the_other_definition_of_taper_differs_for_a_barrel_shaped_bore():
    """Top less bottom: freeasestudyguides.com/cylinder-bore-taper-measurements.html."""
    straight = figures("cylinder_bore", "mm", TWO_WAYS)
    assert figure(straight, "taper_top_bottom") == 31 * MICRON
    barrel = dict.fromkeys(TWO_WAYS, "86.010") | {"middle/thrust": "86.034", "middle/axial": "86.030"}
    worked = figures("cylinder_bore", "mm", barrel)
    assert figure(worked, "taper") == 24 * MICRON
    assert figure(worked, "taper_top_bottom") == 0


# Main journals and their undersizes as one maker prints them (myvehicle.help, an engine manual's piston and engine
# chapter): standard 57.958 to 57.978 mm, then in steps of exactly 0.250 mm, sold as 0.010, 0.020 and 0.030 in.
CHAIN = [("57.958", "57.978"), ("57.708", "57.728"), ("57.458", "57.478"), ("57.208", "57.228")]


def test_a_journal_within_each_size_of_the_undersize_chain_is_under_nominal_by_whole_steps():
    for step, (low, high) in enumerate(CHAIN):
        grid = {"front/0": low, "front/90": high, "rear/0": low, "rear/90": high}
        worked = figures("main_journal", "mm", grid, nominal="57.978")
        assert figure(worked, "under_nominal") == Fraction(step, 4000) + 20 * MICRON
        assert figure(worked, "ovality") == 20 * MICRON
        assert figure(worked, "taper") == 0


def test_a_worn_journal_goes_to_the_next_size_of_the_chain_that_cleans_up():
    steps = [Fraction(n, 4000) for n in (1, 2, 3)]
    worn = [Fraction(text) / 1000 for text in ("57.940", "57.701", "57.950")]
    made = machine(worn, Fraction("57.978") / 1000, steps, Fraction(0), bores=False)
    assert made.chosen is not None and made.forced_by == 1
    assert made.chosen.target == Fraction(CHAIN[2][1]) / 1000


def test_a_misprint_in_a_manual_is_seen_since_its_ends_stand_a_whole_unit_apart():
    """The same page prints a rod journal as "45.51-47.53": bad data that some check has to notice."""
    worked = figures("crankpin", "mm", {"front/0": "45.51", "front/90": "47.53", "rear/0": "47.51", "rear/90": "47.53"})
    assert figure(worked, "ovality") == Fraction(202, 100_000)


# Wear limits by size: bore wear 0.001 in per inch of diameter, main journal out of round 0.0004 in per inch (US Army
# TM 10-3930-647-14-P, page 175, constructionforklifts.tpub.com; read from a scan, the value standing before its item).
# They have no unit, so they hold in millimetres too. Here as a workshop would write them down for itself.
def line(code: str, do: str, of: list[str], by: str = "", kind: str = "length") -> dict:
    return {"code": code, "words": code, "kind": kind, "do": do, "of": of, "along": "", "by": by,
            "definition": "as the line says", "guide": None}  # fmt: skip


def by_size(share: str) -> dict:
    worn = {"code": "worn", "words": "worn", "quantity": "diameter", "optional": False, "borrow": None}
    return {
        "code": "own_wear_by_size", "edition": 1, "name": "Wear by size", "part": "bore", "quantity": "diameter",
        "about": "", "cautions": [], "grid": [], "readings": [worn], "optional": [],
        "sizes": [{"code": "nominal", "words": "nominal", "quantity": "diameter", "many": False}],
        "figures": [
            line("wear", "distance", ["worn", "nominal"]),
            line("allowed", "scaled", ["nominal"], share),
            line("used_up", "quotient", ["wear", "allowed"], kind="number"),
        ],
        "across": [], "walk": "place", "drawing": "list",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("share", "nominal", "worn", "allowed", "used_up"),
    [
        ("1/1000", "86.000 mm", "86.043 mm", Fraction(86) * MICRON, Fraction(1, 2)),
        ("1/1000", "3.5000 in", "3.5035 in", Fraction(35, 10000) * INCH, Fraction(1)),
        ("4/10000", "60.000 mm", "59.976 mm", Fraction(24) * MICRON, Fraction(1)),
    ],
)
def test_wear_limits_that_go_by_the_size_hold_in_millimetres_and_inches(share, nominal, worn, allowed, used_up):
    procedure = by_size(share)
    assert check(procedure) == []
    worked = evaluate(procedure, inputs("", {"nominal": nominal, "worn": worn}), {})
    assert (figure(worked, "allowed"), figure(worked, "used_up")) == (allowed, used_up)


def test_a_bearing_clearance_of_a_thousandth_is_what_a_bearing_maker_advises():
    """0.001 in per inch of journal; 2.375 in gives 0.0024 in, 0.0603 mm: moparmusclemagazine.com on plastic gauge,
    quoting a bearing maker's guide."""
    worked = figures("rod_clearance", "in", housing="2.377375 in", journal="2.375 in")
    assert figure(worked, "relative_clearance") == 1
    clearance = figure(worked, "clearance")
    assert decimal_text(convert(clearance, "m", "in"), 4) == "0.0024"
    assert decimal_text(convert(clearance, "m", "mm"), 4) == "0.0603"
    guide = next(figure["guide"] for figure in BUILT_IN["rod_clearance"]["figures"] if figure["code"] == "clearance")
    assert guide["of"] == "journal" and to_si(read("2.375 in").amount, "in") * Fraction(guide["by"]) == clearance


def test_a_ring_gap_of_four_thousandths_of_the_bore():
    """0.004 in per inch of bore: common practice, no source. 4.000 in gives 0.016 in (0.406 mm), 3.5 in 0.014 in."""
    for bore, gap in (("4.000 in", "0.016 in"), ("3.5 in", "0.014 in")):
        assert figure(figures("ring_gap", "in", {"top": gap}, bore=bore), "relative_top") == 4
    assert decimal_text(convert(Fraction("0.016"), "in", "mm"), 3) == "0.406"


def test_leak_down_is_one_less_the_share_that_is_held():
    """552 kPa in, at least 414 kPa held, is at most 25 %: charm.li, a maker's leak-down test (80 psi and 60 psi)."""
    worked = figures("leak_down_pressures", "kPa", supply="552", held="414")
    assert figure(worked, "leak") == Fraction(1, 4)
    assert figure(figures("leak_down_pressures", "psi", supply="80", held="60"), "leak") == Fraction(1, 4)
    assert figure(figures("leak_down_held", "%", set="100", held="75"), "leak") == Fraction(1, 4)


def test_a_pin_is_off_centre_by_half_the_difference():
    """Each side stands back by half of what the pin is shorter: left less right is twice the offset, by definition."""
    worked = figures("gudgeon_pin_centring", "mm", left="1.32", right="1.08")
    assert figure(worked, "offset") == Fraction(12, 100_000)
    assert figure(worked, "least_recess") == Fraction(108, 100_000)


def test_the_compression_ratio_of_a_chamber_with_gasket_deck_and_dish():
    """Geometry worked by hand: 86 x 86 mm, 45 cm3, gasket 87 x 1.2 mm, deck 0.1 mm, dish 5 cm3."""
    given = {"bore": "86 mm", "stroke": "86 mm", "chamber": "45 cm³", "gasket_bore": "87 mm",
             "gasket_thickness": "1.2 mm", "deck": "0.1 mm", "dish": "5 cm³"}  # fmt: skip
    worked = figures("compression_ratio", "mm", given)
    shown = {line.code: line.amount for line in worked if line.amount is not None}
    assert decimal_text(shown["swept"] * 10**6, 4) == "499.5572"
    assert decimal_text(shown["gasket_volume"] * 10**6, 4) == "7.1336"
    assert decimal_text(shown["deck_volume"] * 10**6, 4) == "0.5809"
    assert decimal_text(shown["clearance_volume"] * 10**6, 4) == "57.7145"
    assert decimal_text(shown["ratio"], 4) == "9.6557"


# Swept volumes of common sizes, pi/4 bore^2 stroke times cylinders, worked by hand.
SWEPT = [
    ("86", "86", 4, "1998.229"),
    ("83", "92", 6, "2986.656"),
    ("101.6", "88.39", 8, "5732.848"),
    ("73.5", "88.9", 4, "1508.781"),
]


@pytest.mark.parametrize(("bore", "stroke", "cylinders", "expected"), SWEPT)
def test_swept_volume(bore, stroke, cylinders, expected):
    worked = figures("compression_ratio", "mm", {"bore": f"{bore} mm", "stroke": f"{stroke} mm"})
    assert decimal_text(figure(worked, "swept") * cylinders * 10**6, 3) == expected


def test_every_quantity_is_read_in_units_that_pint_can_turn_into_each_other():
    for quantity in QUANTITIES.values():
        for unit in quantity["units"]:
            PINT.Quantity(1.0, CALLED[unit][0]).to(CALLED[quantity["units"][0]][0])
