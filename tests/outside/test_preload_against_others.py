"""Threads, preload and torque tools against published values and tables; the source stands beside each.

"From memory" says that the document was not seen. Numbers marked *constructed* are published nowhere: they are
arithmetic, done here a second time by floating point.
"""

from __future__ import annotations

import json
import math
from fractions import Fraction
from pathlib import Path

import pytest

from tests.support.cases import all_cases
from witnessmark.trade.ground.units import from_si, to_si
from witnessmark.trade.tightening import preload
from witnessmark.trade.tightening import tools as torque_tools
from witnessmark.trade.tightening.preload import at_yield, by_coefficient, lever
from witnessmark.trade.tightening.threads import INCH, MM, strength, thread

SET_VALUES = json.loads((Path(__file__).parents[1] / "vectors" / "torque_tools.json").read_text())["set_values"]
LBF = 4.4482216152605  # N, exact: 0.45359237 kg times 9.80665 m/s²

# Stress areas in mm² after ISO 724 and ISO 898-1, from memory of the printed table; M8 and M10 also at boltport.com
# (ISO 10684), M12 at vibromera.eu. Four digits, as printed.
AREAS = {
    "M6": "20.12", "M8": "36.61", "M8x1": "39.17", "M10": "57.99", "M10x1.25": "61.20", "M12": "84.27",
    "M12x1.5": "88.13", "M12x1.25": "92.07", "M14": "115.4", "M16": "156.7", "M20": "244.8",
}  # fmt: skip


@all_cases(("size", "area"), AREAS.items())
def test_stress_areas(size, area):
    area_mm2 = float(thread(size).stress_area) * 1e6
    assert area_mm2 == pytest.approx(float(area), abs=0.5 * 10 ** -len(area.partition(".")[2]) + 0.001)
    d, p = (float(length) * 1e3 for length in (thread(size).diameter, thread(size).pitch))
    assert area_mm2 == pytest.approx(math.pi / 4 * (d - 0.9382 * p) ** 2, rel=2e-5), "the same, as the standard sums it"


@pytest.mark.parametrize("size", ["M6", "M8", "M10x1.25", "M12", "M14x1.5", "M20", "M24"])
def test_the_diameters_of_iso_724(size):
    """ISO 68-1 and ISO 724, factors from memory: d2 = d - 0.649519 P, d1 = d - 1.082532 P, d3 = d - 1.226869 P."""
    of = thread(size)
    for factor, diameter in (
        (0.649519, of.pitch_diameter),
        (1.082532, of.minor_diameter),
        (1.226869, of.root_diameter),
    ):
        assert float(diameter) == pytest.approx(float(of.diameter) - factor * float(of.pitch), abs=2e-9)


def test_coarse_pitches():
    """ISO 261 and ISO 262, from memory."""
    coarse = {6: "1", 8: "1.25", 10: "1.5", 12: "1.75", 14: "2", 16: "2", 18: "2.5", 20: "2.5", 24: "3"}
    assert {d: str(Fraction(pitch)) for d, pitch in coarse.items()} == {
        d: str(thread(f"M{d}").pitch / MM) for d in coarse
    }


# ISO 898-1:1999, table 2, as printed by mem50212.com (bolts) and, for 8.8, vibromera.eu: tensile strength, 0.2 % proof
# strength and stress under proof load in MPa.
CLASSES = [
    ("8.8", "16", (800, 640, 580)),
    ("8.8", "20", (830, 660, 600)),
    ("10.9", "10", (1040, 940, 830)),
    ("12.9", "12", (1220, 1100, 970)),
    ("4.6", "8", (400, 240, 225)),
]


@pytest.mark.parametrize(("code", "diameter", "stresses"), CLASSES)
def test_property_classes(code, diameter, stresses):
    class_of_bolt = strength(code, Fraction(diameter) * MM)
    assert class_of_bolt is not None
    assert (class_of_bolt.tensile / 10**6, class_of_bolt.yields / 10**6, class_of_bolt.proof / 10**6) == stresses


def test_the_proof_load_that_is_printed_is_not_stress_times_area():
    """ISO 898-1 prints 33 700 N for M10 of class 8.8 (from memory); 580 MPa on 57.99 mm² are 33 634 N. The stress and
    the area are what counts, so ours is the smaller, and the two stay within what the standard rounds."""
    of = thread("M10")
    ours = strength("8.8", of.diameter).proof * of.stress_area
    assert round(ours) == 33634
    assert float(ours) == pytest.approx(33700, rel=0.0021)


def test_a_proof_load_as_printed():
    """vibromera.eu: M12 of class 8.8, 84.3 mm² and 48 894 N, which is its rounded area times 580 MPa."""
    of = thread("M12")
    assert float(strength("8.8", of.diameter).proof * of.stress_area) == pytest.approx(48894, rel=5e-4)


# Shigley, Mechanical Engineering Design, 9th edition, example 8-3, page 439: 3/4-16 UNF, SAE grade 5, preload 25 kip.
SHIGLEY = thread("3/4-16 UNF")
KIP25 = Fraction(25000) * preload.LBF


def test_example_8_3_by_the_short_form():
    """Part (b), K = 0.2: 3750 lbf·in."""
    torque = Fraction("0.2") * KIP25 * SHIGLEY.diameter
    assert from_si(torque, "lbf·in") == pytest.approx(3750, abs=1e-9)
    assert by_coefficient(to_si(Fraction(3750), "lbf·in"), SHIGLEY.diameter, Fraction("0.2")) == pytest.approx(
        float(KIP25), rel=1e-12
    )


def test_example_8_3_by_the_long_form():
    """Part (c), equation 8-26 with f = fc = 0.15: 3551 lbf·in (result from memory, worked again here). The book keeps
    the small product of friction and slope in the thread, Motosh's sum leaves it out: a quarter of a per cent."""
    ours = float(from_si(KIP25 * lever(SHIGLEY, Fraction("0.15"), Fraction("0.15")), "lbf·in"))
    d, dm, f = 0.75, (0.75 + 0.6685) / 2, 0.15
    slope, flank = 1 / (math.pi * dm * 16), 1 / math.cos(math.radians(30))
    k = dm / (2 * d) * (slope + f * flank) / (1 - f * slope * flank) + 0.625 * f
    assert (round(k, 5), round(k * 25000 * d)) == (0.18937, 3551)
    assert ours == pytest.approx(3551, rel=0.003)
    assert ours < 3551


def test_example_8_3_against_the_proof_strength():
    """Part (a): stress area 0.373 in², 67.02 kpsi from the preload alone, 21 per cent below the 85 kpsi of grade 5."""
    area = float(SHIGLEY.stress_area / INCH**2)
    assert area == pytest.approx(0.373, abs=0.0005)
    grade = strength("SAE 5", SHIGLEY.diameter)
    kpsi = 1000 * preload.LBF / INCH**2
    assert grade.proof / kpsi == 85
    made = preload.estimate(
        to_si(Fraction(3750), "lbf·in"),
        SHIGLEY,
        preload.friction_of("", {"k": "0.2", "thread": "0.15", "head": "0.15"}),
        grade,
    )
    assert float(made.short.usual / SHIGLEY.stress_area / kpsi) == pytest.approx(67.02, abs=0.02)
    assert 1 - float(made.short.usual / made.proof) == pytest.approx(0.21, abs=0.005)


def test_torque_coefficients():
    """Shigley, the same edition, table 8-15, page 439."""
    book = {"dry": "0.30", "zinc": "0.20", "lubricated": "0.18", "cadmium": "0.16", "anti_seize": "0.12"}
    assert {code: preload.CONDITIONS[code]["k"][0] for code in book} == book


# VDI 2230:2003, table of assembly preload in kN and tightening torque in N·m for fine threads, friction 0.12, as
# printed in a maker's catalogue (mastik.pt, page 685), for classes 8.8, 10.9 and 12.9.
VDI = """
M8x1      20.2/29.7/34.7     26.1/38.3/44.9
M10x1.25  31.6/46.4/54.3     51/75/87
M12x1.25  48.0/70.5/82.5     90/133/155
M14x1.5   64.8/95.2/111.4    142/209/244
M16x1.5   87.6/128.7/150.6   218/320/374
"""
# The same table for coarse threads and class 8.8, from memory.
VDI_FROM_MEMORY = """
M8        18.6    24.6
M10       29.6    48
M12       43.0    84
"""
ROWS = [line.split() for line in (VDI + VDI_FROM_MEMORY).splitlines() if line]


@all_cases(("size", "force", "torque"), ROWS, ids=str)
def test_rows_of_vdi_2230(size, force, torque):
    """Torques within 1.5 per cent: the table truncates, its larger torques are whole numbers, some cut and some rounded
    (48 stands for our 48.3, 51 for 50.7), and one of them is up to two per cent. Forces within 0.3 per cent."""
    of, rubs = thread(size), Fraction("0.12")
    rows = zip(("8.8", "10.9", "12.9"), force.split("/"), torque.split("/"), strict=False)
    for code, kilonewtons, newton_metres in rows:
        ours = at_yield(of, strength(code, of.diameter).yields, rubs)
        assert float(ours) / 1e3 == pytest.approx(float(kilonewtons), rel=0.003)
        assert float(ours * lever(of, rubs, rubs)) == pytest.approx(float(newton_metres), rel=0.015)


@all_cases("size", ["M8", "M10x1.25", "M12", "M16x1.5"])
@all_cases("rubs", ["0.08", "0.12", "0.20"])
def test_motosh_and_the_sum_of_vdi_2230_agree(size, rubs):
    """VDI 2230: M = F·(0.16·P + 0.58·d2·μG + DKm/2·μK). Its factors are rounded: 1/2π is 0.159, 1/(2·cos 30°) 0.577."""
    of, rubs = thread(size), Fraction(rubs)
    theirs = 0.16 * float(of.pitch) + 0.58 * float(of.pitch_diameter * rubs) + float(of.bearing / 2 * rubs)
    assert float(lever(of, rubs, rubs)) == pytest.approx(theirs, rel=0.005)


def test_the_mean_diameters_under_the_head():
    """ISO 4014 bearing faces and ISO 273 medium holes, from memory: those that reproduce the torques above."""
    faces = {"M8": (11.63, 9), "M10": (14.63, 11), "M12": (16.63, 13.5), "M14": (19.64, 15.5), "M16": (22.49, 17.5)}
    for size, (face, hole) in faces.items():
        assert float(thread(size).bearing) * 1e3 == pytest.approx((face + hole) / 2, abs=1e-12)


@pytest.mark.parametrize(("size", "degrees", "millimetres"), [("M10", 90, "0.375"), ("M12", 90, "0.4375")])
def test_the_advance_of_an_angle(size, degrees, millimetres):
    """Constructed: P·θ/360. A bolt in a joint stretches less, for the parts give way too."""
    assert preload.advance(thread(size).pitch, Fraction(degrees)) == Fraction(millimetres) * MM


# Crow-foot or extension in line, T·L/(L + E): common practice, no authoritative source; the arithmetic is constructed.
@pytest.mark.parametrize(
    ("torque", "length", "extension", "value"),
    [(100, 400, 50, 88.889), (100, 500, 100, 83.333), (150, 450, 75, 128.571)],
)
def test_the_value_to_set_with_an_extension(torque, length, extension, value):
    """The phone works it out, judged by these vectors."""
    payload = {"torque": str(torque), "length": str(length), "extension": str(extension), "in_line": True}
    (case,) = (case for case in SET_VALUES if payload.items() <= case.items())
    assert float(Fraction(case["value"])) == pytest.approx(value, abs=0.0005)


def tool(sort, high, unit="N·m", code=""):
    given = {"sort": sort, "unit": unit, "high": high, "low": "", "class": code, "deviation": ""}
    return torque_tools.deviation(given)[0]


def test_bounds_of_iso_6789():
    """ISO 6789:2003, 5.1.5, as quoted in the manual of a maker's torque wrench (manuzoid.com): type II class A, 4 per
    cent, 6 per cent up to 10 N·m. ISO 6789-1:2017 has the same. A page that gives 1.5, 2 and 3 per cent is wrong."""
    assert tool("click", "100", code="II A") == tool("click", "10.01", code="II A") == 4
    assert tool("click", "10", code="II A") == tool("click", "5", code="II A") == 6
    assert tool("click", "88", "lbf·in", "II A") == 6, "9.94 N·m"
    assert tool("click", "7.4", "lbf·ft", "II A") == 4, "10.03 N·m"


# ISO 6789-1:2017, the split by type and class, from memory: permissible deviation in per cent up to and above 10 N·m.
SPLIT = {
    "I A": (6, 6), "I B": (6, 4), "I C": (6, 4), "I D": (6, 6), "I E": (6, 4),
    "II A": (6, 4), "II B": (6, 4), "II C": (6, 4), "II D": (6, 6), "II E": (6, 6), "II F": (6, 6), "II G": (6, 6),
}  # fmt: skip


def test_the_split_by_type_and_class():
    ends = (Fraction(10), Fraction("10.001"))
    split = {code: tuple(torque_tools.permitted_by(code, end) for end in ends) for code in torque_tools.CLASSES}
    assert split == SPLIT


def test_a_click_wrench_is_calibrated_and_used_from_20_to_100_per_cent():
    """The same manual: tested at 20, 60 and 100 per cent of the largest value. That it is used only there: practice."""
    wrench = {"sort": "click", "unit": "N·m", "low": "", "high": "200"}
    reached = [torque_tools.in_range(wrench, Fraction(amount)) for amount in (39, 40, 120, 200, 201)]
    assert reached == [False, True, True, True, False]
