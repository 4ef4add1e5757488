"""Cases that once broke a sheet, or told the two sides apart. All of it is invented."""

from __future__ import annotations

from tests.sheets.cases import CASES, case
from tests.sheets.said import BORE, FOUR, PIN, V6, Workshop

__all__ = ["CASES"]


@case
def readings_with_as_many_digits_as_can_be_typed() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge()
    shop.size("cylinder_bore", "nominal", ["9999999999999999.125"])
    for value in ("86.000000000000001", "86.000000000000002"):
        shop.read("cylinder_bore", "bore/1", "top/thrust", value, gauge=gauge)
    shop.read("cylinder_bore", "bore/1", "top/axial", "999999999999999.999999999999999", "m", gauge=gauge)
    return shop


@case
def readings_called_as_every_object_is() -> Workshop:
    shop = Workshop()
    for name in ("__proto__", "constructor", "tostring"):
        shop.read("", "bore/1", name, "86.020", quantity="diameter")
        shop.read("cylinder_bore", "bore/1", name, "86.020")
    return shop


@case
def a_share_of_compression_written_with_a_nought_too_many() -> Workshop:
    shop = Workshop(V6)
    shop.rules(compression_share="75.0")
    for cylinder, dry in enumerate(("12.1", "11.9", "8.2"), 1):
        shop.read("compression_cold", f"bore/{cylinder}", "dry", dry, "bar", quantity="compression")
    return shop


@case
def scatter_that_is_next_to_nothing() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge(resolution="0.000000000000001")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=gauge)
    for value in ("86.062000000000001", "86.062000000000009"):
        shop.read("cylinder_bore", "bore/1", "top/thrust", value, gauge=gauge)
    return shop


@case
def a_later_edition_that_means_another_thing_by_the_same_name() -> Workshop:
    """What was read by the first edition comes to what it came to; one place read by the second is told by that."""
    shop = Workshop(FOUR)
    line = {"words": "taper", "kind": "length", "of": ["grid"], "along": "height", "by": "", "guide": None}
    procedure = {
        "code": "own_liner_seat", "edition": 1, "name": "Seat of a liner", "part": "bore", "quantity": "diameter",
        "about": "Invented.", "cautions": [], "optional": [], "readings": [], "sizes": [], "across": [],
        "grid": [{"axis": "height", "words": "height",
                  "values": [{"code": "top", "words": "at the top"}, {"code": "foot", "words": "at the foot"}]}],
        "figures": [line | {"code": "taper", "do": "largest_spread", "definition": "Largest less smallest."}],
        "walk": "place", "drawing": "bore",
    }  # fmt: skip
    later = {
        "edition": 2,
        "grid": [procedure["grid"][0] | {"values": [*procedure["grid"][0]["values"], {"code": "lip", "words": "lip"}]}],
        "figures": [line | {"code": "taper", "do": "largest_drop", "definition": "Top less lip, with its sign."}],
    }
    shop.says("procedure_described", "procedure", procedure)
    shop.says("procedure_described", "procedure", procedure | later)
    for state, codes, edition in (("as_found", ("top", "foot"), 1), ("machined", ("top", "foot", "lip"), 2)):
        for code, value in zip(codes, ("91.010", "91.024", "91.030"), strict=False):
            shop.read("own_liner_seat", "bore/1", code, value, state=state, edition=edition)
    # Nobody here knows the ninth: the newest that is known has to do.
    shop.read("own_liner_seat", "bore/1", "top", "91.010", state="built", edition=9)
    return shop


@case
def a_reading_whose_gauge_was_taken_away_by_a_correction() -> Workshop:
    shop = Workshop()
    late = shop.gauge(due="2026-05-01")
    shop.read("cylinder_bore", "bore/1", "top/thrust", "86.06", gauge=late, gauge_id="")
    shop.read("cylinder_bore", "bore/1", "top/axial", "86.02", gauge=late)
    return shop


@case
def a_stem_of_another_metal_than_its_guide() -> Workshop:
    """The engine type states the metal of the guide. The stem is not of it: without its own it stays as read."""
    shop = Workshop()
    gauge = shop.gauge("Micrometer 2", sort="external_micrometer")
    shop.size("valve_guide_clearance", "material", ["bearing_bronze"], "")
    warm = {"gauge": gauge, "part_temperature": "40 °C", "gauge_temperature": "20 °C"}
    place = "valve_guide/1/inlet/1"
    shop.read("valve_guide_clearance", place, "hole", "18.060", **warm)
    shop.read("valve_guide_clearance", place, "shaft", "18.020", **warm)
    shop.read("valve_guide_clearance", place, "unworn", "18.030", material="steel_4140", **warm)
    return shop


@case
def a_gudgeon_pin_that_stands_out() -> Workshop:
    shop = Workshop(FOUR)
    for cylinder, left, right in ((1, "1.20", "-0.02"), (2, "0.61", "0.59"), (3, "1.18", "0.00")):
        shop.read("gudgeon_pin_centring", f"gudgeon_pin/{cylinder}", "left", left, quantity="recess")
        shop.read("gudgeon_pin_centring", f"gudgeon_pin/{cylinder}", "right", right, quantity="recess")
    return shop


@case
def temperatures_of_some_readings_only() -> Workshop:
    """Brought to 20 °C is all that goes into a figure, or nothing; also where the other part is borrowed."""
    shop = Workshop(FOUR)
    gauge = shop.gauge()
    warm = {"part_temperature": "30 °C", "gauge_temperature": "20 °C", "material": "steel_1040"}
    shop.read_all("crankpin", "crankpin/1", PIN, gauge=gauge, **warm)
    shop.read_all("crankpin", "crankpin/2", PIN, gauge=gauge, **warm)
    shop.read("rod_clearance", "rod_bearing/1", "housing", "54.030", gauge=gauge)
    shop.read("rod_clearance", "rod_bearing/2", "housing", "54.030", gauge=gauge, **warm)
    shop.size("cylinder_bore", "material", ["grey_iron"], "")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=gauge, part_temperature="30 °C", gauge_temperature="20 °C")
    shop.read("cylinder_bore", "bore/1", "ridge", "86.001", gauge=gauge, part_temperature="30 °C")
    return shop
