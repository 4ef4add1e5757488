"""Press and shrink fits, volumes and machining steps against published formulas and arithmetic; sources stand beside.
Pressing is worked out by the phone and the office: its vectors are judged here, and vitest holds the apps to them.

Numbers marked *constructed* are published nowhere: they were worked out from the published formula in another way.
"""

from __future__ import annotations

import json
import math
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.support.cases import all_cases
from witnessmark.trade.ground.exact import PI
from witnessmark.trade.ground.tables import table
from witnessmark.trade.measuring.gradients import Value, cylinder_volume, ratio_of_volumes
from witnessmark.trade.proposals import press_fit
from witnessmark.trade.proposals.machining import machine

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "press_fit.json").read_text())


class Material(NamedTuple):
    """Modulus of elasticity in Pa and Poisson's ratio."""

    modulus: Fraction
    poisson: Fraction


STEEL = Material(Fraction(207 * 10**9), Fraction("0.292"))
IRON = Material(Fraction(100 * 10**9), Fraction("0.211"))


def mm(text) -> Fraction:
    return Fraction(text) / 1000


def pressed(seat: str, over: str, outer: str, hub: Material, inner: str) -> dict:
    """The vector of a steel shaft in such a hub: MPa, micrometres, N, N·m."""
    wanted = [Fraction(number) for number in (seat, over, outer, inner)]
    metals = [Fraction(number) for metal in (hub, STEEL) for number in (metal.modulus / 10**9, metal.poisson)]
    for case in VECTORS["press"]:
        sizes = [Fraction(case[name]) for name in ("seat", "interference", "hub_outer", "shaft_inner")]
        if sizes == wanted and [Fraction(text) for text in (*case["hub"], *case["shaft"])] == metals:
            return case
    raise AssertionError(f"no vector of {seat} {over} {outer} {inner}")


def same_material(modulus, over, seat, outer, inner):
    """Shigley, Mechanical Engineering Design, 9th edition, equation 3-57, page 116: both members of one material, in
    radii, with the radial interference."""
    e, delta, r, ro, ri = (float(number) for number in (modulus, over / 2, seat / 2, outer / 2, inner / 2))
    return e * delta / (2 * r**3) * (ro**2 - r**2) * (r**2 - ri**2) / (ro**2 - ri**2)


def two_materials(over, seat, outer, hub, inner, shaft):
    """The same book, equation 3-56, page 116, in radii."""
    delta, r, ro, ri = (float(number) for number in (over / 2, seat / 2, outer / 2, inner / 2))
    opens = ((ro**2 + r**2) / (ro**2 - r**2) + float(hub.poisson)) / float(hub.modulus)
    closes = ((r**2 + ri**2) / (r**2 - ri**2) - float(shaft.poisson)) / float(shaft.modulus)
    return delta / (r * (opens + closes))


@all_cases("inner", ["0", "12", "30"])
@all_cases("outer", ["44", "60", "80", "200"])
def test_one_material_comes_out_as_by_the_books_short_formula(inner, outer):
    by_book = same_material(STEEL.modulus, mm("0.03"), mm(40), mm(outer), mm(inner))
    assert float(pressed("40", "0.03", outer, STEEL, inner)["pressure"]) * 1e6 == pytest.approx(by_book, rel=1e-9)


@pytest.mark.parametrize(("seat", "over", "outer", "inner"), [("92", "0.05", "112", "86"), ("24", "0.04", "30", "20")])
def test_two_materials_come_out_as_by_the_books_long_formula(seat, over, outer, inner):
    by_book = two_materials(mm(over), mm(seat), mm(outer), IRON, mm(inner), STEEL)
    assert float(pressed(seat, over, outer, IRON, inner)["pressure"]) * 1e6 == pytest.approx(by_book, rel=1e-9)


def test_a_solid_shaft_in_a_steel_hub():
    """Constructed: Ø40 in a hub of Ø80, 0.030 mm over, E 207 GPa; by 3-56, by 3-57 and by superposed displacements."""
    made = pressed("40", "0.03", "80", STEEL, "0")
    assert float(made["pressure"]) == pytest.approx(58.21875, abs=1e-9)
    assert float(made["hub_hoop"]) == pytest.approx(97.03, abs=0.005)
    assert (made["length"], made["friction"]) == ("40", "0.12")
    assert float(made["force"]) / 1e3 == pytest.approx(35.117, abs=0.0005)
    assert float(made["torque"]) == pytest.approx(702.33, abs=0.005)


def test_a_liner_in_an_iron_boss():
    """Constructed: a steel liner 86/92 in an iron boss of Ø112, 0.050 mm over; its bore closes by 0.029 mm, which is
    why a liner is finished after it is in."""
    made = pressed("92", "0.05", "112", IRON, "86")
    assert float(made["pressure"]) == pytest.approx(4.3854, abs=0.00005)
    assert float(made["closing"]) / 1e3 == pytest.approx(0.02888, abs=0.000005)


def test_the_hub_is_in_balance_after_lame():
    """Lamé: radial and hoop stress at one radius add up to the same everywhere in the ring (Timoshenko, Strength of
    Materials, part II, from memory). Outside, the radial stress is nothing."""
    made = pressed("40", "0.03", "80", STEEL, "0")
    pressure, hoop = Fraction(made["pressure"]), Fraction(made["hub_hoop"])
    outside = 2 * pressure * mm(40) ** 2 / (mm(80) ** 2 - mm(40) ** 2)
    assert hoop - pressure == outside


@pytest.mark.parametrize(
    "case", [case for case in VECTORS["press"] if "refused" not in case], ids=lambda case: case["name"]
)
def test_the_gap_that_two_rings_close_is_the_interference(case):
    """Hooke's law at the seat: what the hub opens and what the shaft closes there add up to the interference."""
    (hub, hub_nu), (shaft, shaft_nu) = ([float(text) for text in case[name]] for name in ("hub", "shaft"))
    pressure, seat = float(case["pressure"]), float(case["seat"])
    opened = seat * (float(case["hub_hoop"]) + hub_nu * pressure) / (hub * 1e3)
    closed = -seat * (float(case["shaft_hoop"]) + shaft_nu * pressure) / (shaft * 1e3)
    assert opened + closed == pytest.approx(float(case["interference"]), rel=1e-7)


# ΔD = α D ΔT with the coefficients of Callister, Fundamentals of Materials Science and Engineering, 3rd edition, table
# B.6, in 1e-6 per kelvin. The examples are constructed.
CALLISTER = {
    "steel_1020": "11.7", "steel_1040": "11.3", "steel_4140": "12.3", "steel_4340": "12.3", "stainless_304": "17.2",
    "grey_iron": "11.4", "ductile_iron": "10.6", "aluminium_1100": "23.6", "aluminium_6061": "23.6",
    "aluminium_2024": "22.9", "aluminium_356": "21.5", "bearing_bronze": "18.0", "cartridge_brass": "19.9",
}  # fmt: skip


def test_the_coefficients_are_those_of_the_book():
    assert {material["code"]: material["alpha"] for material in table("materials")["materials"]} == CALLISTER


@pytest.mark.parametrize(
    ("metal", "diameter", "kelvin", "growth"),
    [
        ("aluminium_6061", 60, 80, 0.1133),
        ("steel_1020", 22, -50, -0.01287),
        ("aluminium_356", 86, 10, 0.0185),
        ("grey_iron", 86, 10, 0.0098),
    ],
)
def test_growth_with_temperature(metal, diameter, kelvin, growth):
    grown = press_fit.growth(mm(diameter), Fraction(CALLISTER[metal]) / 10**6, Fraction(kelvin))
    assert float(grown) * 1e3 == pytest.approx(growth, abs=6e-5)


def test_how_warm_a_hole_must_be():
    """Constructed: 170.9 K open Ø50 of steel (11.7) by 0.10 mm."""
    hub = press_fit.heat_for_slip(mm(50), mm("0.10"), mm(0), Fraction("11.7") / 10**6)
    assert float(hub) - 20 == pytest.approx(170.9, abs=0.05)


def test_pi_is_pi():
    assert float(PI) == math.pi


def round_slice(diameter: Fraction, height: Fraction) -> Fraction:
    made = cylinder_volume(Value(diameter), Value(height))
    assert isinstance(made, Value)
    return made.amount


# Geometry: V = π/4·b²·s·n in cm³, and (Vd + Vc)/Vc, by the operations of procedures. Recomputed by floating
# point here; the sizes are examples.
@pytest.mark.parametrize(
    ("bore", "stroke", "number", "volume"),
    [
        ("86", "86", 4, 1998.229),
        ("83", "92", 6, 2986.656),
        ("101.6", "88.39", 8, 5732.848),
        ("80.26", "88.9", 4, 1799.078),
        ("73.5", "88.9", 4, 1508.781),
        ("101.6", "76.2", 8, 4942.222),
    ],
)
def test_swept_volume(bore, stroke, number, volume):
    swept = round_slice(mm(bore), mm(stroke)) * number
    assert float(swept) * 1e6 == pytest.approx(volume, abs=0.0005)
    assert float(swept) == pytest.approx(math.pi / 4 * float(mm(bore)) ** 2 * float(mm(stroke)) * number, rel=1e-14)


def test_a_compression_ratio_from_its_parts():
    """Constructed: chamber 45, gasket Ø87 by 1.2 mm (7.1336), deck 0.1 mm (0.5809), dish 5: 57.7145 cm³ and 9.6557."""
    gasket, deck = round_slice(mm(87), mm("1.2")), round_slice(mm(86), mm("0.1"))
    assert float(gasket) * 1e6 == pytest.approx(7.1336, abs=5e-5)
    assert float(deck) * 1e6 == pytest.approx(0.5809, abs=5e-5)
    clearance = Fraction(45, 10**6) + gasket + deck + Fraction(5, 10**6)
    assert float(clearance) * 1e6 == pytest.approx(57.7145, abs=5e-5)
    swept = Value(round_slice(mm(86), mm(86)))
    made = ratio_of_volumes(swept, Value(clearance), "the clearance volume")
    assert isinstance(made, Value)
    assert float(made.amount) == pytest.approx(9.6557, abs=5e-5)


# A maker's undersizes of main journals: 57.958 to 57.978 mm new, then 0.250 mm less each time, sold as .010, .020 and
# .030 in (myvehicle.help, service data of a light diesel, piston and engine). 10 thou are 0.254 mm and never meant.
CHAIN = {"0": "57.978", "0.250": "57.728", "0.500": "57.478", "0.750": "57.228"}


@pytest.mark.parametrize(
    ("smallest", "target"),
    [("57.940", "57.728"), ("57.738", "57.728"), ("57.737", "57.478"), ("57.400", "57.228"), ("57.200", None)],
)
def test_the_undersizes_of_a_maker(smallest, target):
    made = machine(
        [Fraction("57.960"), Fraction(smallest), Fraction("57.955")],
        Fraction(CHAIN["0"]),
        [Fraction(step) for step in CHAIN if step != "0"],
        Fraction("0.010"),
        bores=False,
    )
    assert (made.chosen and made.chosen.target) == (Fraction(target) if target else None)
    assert made.forced_by == 1


def test_the_oversizes_of_a_maker():
    """easymanua.ls, a maker's manual of small diesel engines, page 77: Ø78, oversizes 0.25 and 0.50, worn at +0.20."""
    steps, stock = [Fraction("0.25"), Fraction("0.50")], Fraction("0.03")
    worn = machine([Fraction("78.01"), Fraction("78.20")], Fraction(78), steps, stock, bores=True)
    assert worn.chosen and worn.chosen.target == Fraction("78.25")
    more = machine([Fraction("78.01"), Fraction("78.23")], Fraction(78), steps, stock, bores=True)
    assert more.chosen and more.chosen.target == Fraction("78.50")
    assert machine([Fraction("78.48")], Fraction(78), steps, stock, bores=True).chosen is None
