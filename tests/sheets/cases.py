"""The cases of measurement sheets: each a workshop with its statements and readings. All of it is invented."""

from __future__ import annotations

from collections.abc import Callable

from tests.sheets.said import BORE, FOUR, PIN, V6, Workshop

CASES: dict[str, Callable[[], Workshop]] = {}


def case(make: Callable[[], Workshop]) -> Callable[[], Workshop]:
    CASES[make.__name__.replace("_", " ")] = make
    return make


@case
def a_bore_judged_by_service_limits() -> Workshop:
    shop = Workshop()
    gauge, rules = shop.gauge(), shop.rules()
    limits = (
        shop.limit("cylinder_bore", "ovality", "", "0.050"),
        shop.limit("cylinder_bore", "taper", "", "0.030"),
        shop.limit("cylinder_bore", "largest", "85.990", "86.150"),
        shop.limit("cylinder_bore", "largest", "", "86.020", sort="new"),
        shop.limit("cylinder_bore", "smallest", "", "86.000", sort="machining"),
    )
    size = shop.size("cylinder_bore", "nominal", ["86.000"])
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=gauge, basis=(rules, *limits, size))
    shop.read("cylinder_bore", "bore/1", "ridge", "86.001", gauge=gauge, basis=(rules, *limits, size))
    return shop


@case
def a_half_done_grid() -> Workshop:
    shop = Workshop()
    shop.limit("cylinder_bore", "ovality", "", "0.050")
    shop.read("cylinder_bore", "bore/1", "top/thrust", "86.06", gauge=shop.gauge())
    shop.read("cylinder_bore", "bore/1", "top/axial", "86.02")
    return shop


@case
def a_reading_far_from_its_neighbours() -> Workshop:
    shop = Workshop()
    shop.read_all("cylinder_bore", "bore/1", BORE | {"middle/axial": "86.115"})
    return shop


@case
def repeats_and_few_degrees_of_freedom() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge("Micrometer 2", sort="external_micrometer", mpe="0.002", repeatability="0.0015")
    shop.limit("crankpin", "smallest", "53.970", "")
    shop.read_all("crankpin", "crankpin/1", PIN, gauge=gauge)
    for value in ("53.973", "53.978"):
        shop.read("crankpin", "crankpin/1", "rear/90", value, gauge=gauge)
    return shop


@case
def units_mixed_at_one_place() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge()
    shop.limit("cylinder_bore", "ovality", "", "2", "thou")
    for reading, value, unit in (
        ("top/thrust", "3.3883 in", "in"), ("top/axial", "86.02", "mm"), ("middle/thrust", "86,048", "mm"),
        ("middle/axial", "3.3864", "in"), ("bottom/thrust", "86.031", "mm"), ("bottom/axial", "3 193/500", "in"),
    ):  # fmt: skip
        shop.read("cylinder_bore", "bore/1", reading, value, unit, gauge=gauge)
    return shop


@case
def shown_in_the_unit_of_the_workshop() -> Workshop:
    shop = Workshop()
    rules = shop.rules(shown_length="in", shown_pressure="psi")
    shop.limit("cylinder_bore", "ovality", "", "0.050")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=shop.gauge(), basis=(rules,))
    shop.read("compression_cold", "bore/1", "dry", "11.5", "bar", quantity="compression")
    return shop


@case
def a_gauge_past_its_date_for_good() -> Workshop:
    shop = Workshop()
    late = shop.gauge(due="2026-05-01")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=late)
    # Calibrated later: what it gave before stays as it was.
    shop.gauge(calibrated="2026-06-01", due="2027-06-01", claimed="2026-06-01T09:00:00.000+02:00")
    return shop


@case
def a_gauge_that_only_its_identifier_names() -> Workshop:
    shop = Workshop()
    old = shop.gauge(due="2026-05-01", claimed="2026-01-02T08:00:00.000+01:00")
    shop.gauge(due="2027-05-01", claimed="2026-05-02T08:00:00.000+01:00")
    known = shop.stated(old)["id"]
    shop.read("cylinder_bore", "bore/1", "top/thrust", "86.06", gauge_id=known, claimed="2026-05-01T23:59:59.000+02:00")
    shop.read("cylinder_bore", "bore/1", "top/axial", "86.02", gauge_id=known, claimed="2026-05-02T07:59:59.000+01:00")
    shop.read(
        "cylinder_bore", "bore/1", "middle/axial", "86.02", gauge_id=known, claimed="2026-05-02T08:00:00.000+01:00"
    )
    shop.read(
        "cylinder_bore", "bore/1", "bottom/axial", "86.02", gauge_id=known, claimed="2025-12-31T08:00:00.000+01:00"
    )
    return shop


@case
def a_limit_changed_after_it_was_measured() -> Workshop:
    shop = Workshop()
    gauge, rules = shop.gauge(), shop.rules()
    old = shop.limit("cylinder_bore", "ovality", "", "0.030")
    same = shop.limit("cylinder_bore", "taper", "", "0.060")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=gauge, basis=(rules, old, same))
    shop.says(
        "limit_set", "limit", shop.stated(old) | {"high": "0.060", "source": "Invented manual, edition 3, page 15"}
    )
    # Said again without a change: no second verdict.
    shop.says("limit_set", "limit", dict(shop.stated(same)))
    return shop


@case
def rules_changed_after_it_was_measured() -> Workshop:
    shop = Workshop()
    gauge, rules = shop.gauge(), shop.rules()
    limit = shop.limit("cylinder_bore", "ovality", "", "0.045")
    shop.read_all(
        "cylinder_bore", "bore/1", BORE, gauge=gauge, basis=(rules, limit, "01900000-ffff-7000-8000-000000000000")
    )
    shop.rules(rule="simple")
    return shop


@case
def simple_acceptance() -> Workshop:
    shop = Workshop()
    rules = shop.rules(rule="simple")
    limit = shop.limit("cylinder_bore", "ovality", "", "0.042")
    shop.read_all("cylinder_bore", "bore/1", BORE, basis=(rules, limit))
    return shop


@case
def ninety_five_per_cent_sure() -> Workshop:
    shop = Workshop()
    rules = shop.rules(rule="guarded_95")
    limit = shop.limit("cylinder_bore", "ovality", "", "0.045")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=shop.gauge(), basis=(rules, limit))
    return shop


@case
def limits_for_a_time_and_withdrawn_ones() -> Workshop:
    shop = Workshop()
    shop.limit("cylinder_bore", "ovality", "", "0.040", valid_until="2026-05-13")
    shop.limit("cylinder_bore", "ovality", "", "0.050", valid_from="2026-05-14")
    shop.limit("cylinder_bore", "ovality", "", "0.010", withdrawn=True)
    shop.limit("cylinder_bore", "ovality", "", "5", "bar")
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=shop.gauge())
    return shop


@case
def clearance_of_a_bearing_with_a_borrowed_journal() -> Workshop:
    shop = Workshop(FOUR)
    micrometer = shop.gauge("Micrometer 2", sort="external_micrometer", mpe="0.002")
    bore = shop.gauge("Bore gauge 1", mpe="0.003", due="2026-05-01")
    shop.limit("rod_clearance", "clearance", "0.025", "0.080")
    shop.read_all("crankpin", "crankpin/2", PIN, gauge=micrometer)
    shop.read("rod_clearance", "rod_bearing/2", "housing", "54.030", gauge=bore)
    shop.read("rod_clearance", "rod_bearing/3", "housing", "54.031", gauge=bore)
    shop.read("rod_clearance", "rod_bearing/4", "housing", "54.029", gauge=bore)
    shop.read("rod_clearance", "rod_bearing/4", "journal", "53.985", gauge=micrometer)
    return shop


@case
def a_pin_ground_to_the_next_size_is_no_worn_one() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge()
    shop.limit("crankpin", "smallest", "53.970", "", sort="service")
    shop.limit("crankpin", "smallest", "53.725", "53.745", sort="machining")
    shop.limit("crankpin", "ovality", "", "0.010", sort="service")
    shop.limit("crankpin", "largest", "", "54.000", sort="new")
    shop.limit("crankpin", "largest", "", "53.750", sort="machining", where=["crankpin/3"])
    ground = {name: f"53.73{digit}" for name, digit in zip(PIN, "565454", strict=True)}
    for place in ("crankpin/2", "crankpin/3"):
        shop.read_all("crankpin", place, PIN, gauge=gauge)
        shop.read_all("crankpin", place, ground, gauge=gauge, state="machined")
    return shop


@case
def built_with_a_journal_left_as_found_and_a_bore_machined() -> Workshop:
    shop = Workshop(V6)
    gauge = shop.gauge()
    shop.limit("cylinder_bore", "smallest", "86.245", "86.260", sort="machining")
    shop.limit("cylinder_bore", "smallest", "", "86.020", sort="new")
    shop.limit("cylinder_bore", "largest", "", "86.150", where=["bore/2"])
    shop.limit("piston_clearance", "least_clearance", "0.030", "0.060", sort="new")
    shop.read_all("cylinder_bore", "bore/2", BORE, gauge=gauge)
    cut = {name: f"86.25{digit}" for name, digit in zip(BORE, "432143", strict=True)}
    shop.read_all("cylinder_bore", "bore/2", cut, gauge=gauge, state="machined")
    shop.read("piston_clearance", "piston/2", "skirt", "86.205", gauge=gauge, state="built")
    shop.read_all("crankpin", "crankpin/1", PIN, gauge=gauge)
    for bearing in (1, 2):
        shop.read("rod_clearance", f"rod_bearing/{bearing}", "housing", "54.030", gauge=gauge, state="built")
    return shop


@case
def temperature_of_part_and_gauge() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge()
    shop.size("cylinder_bore", "material", ["grey_iron"], "")
    shop.limit("cylinder_bore", "largest", "", "86.150")
    warm = {"part_temperature": "28.5 °C", "gauge_temperature": "22"}
    shop.read_all("cylinder_bore", "bore/1", BORE, gauge=gauge, **warm)
    shop.read(
        "cylinder_bore", "bore/1", "ridge", "86.001", gauge=gauge, material="aluminium_356", part_temperature="80 °F",
        gauge_temperature="71.6 °F",
    )  # fmt: skip
    return shop


@case
def valve_clearances_with_limits_for_either_side() -> Workshop:
    shop = Workshop(FOUR)
    feeler = shop.gauge("Feeler set", sort="feeler_gauges", resolution="0.01", mpe="0.005")
    shop.limit("valve_shim", "clearance", "0.15", "0.25", where=["valve/*/inlet"])
    shop.size("valve_shim", "target", ["0.20"], where=["valve/*/inlet"])
    shop.size("valve_shim", "set", ["2.20", "2.25", "2.30", "2.35", "2.40"])
    for cylinder in (1, 2):
        for side, gap in (("inlet", "0.31"), ("exhaust", "0.30")):
            place = f"valve/{cylinder}/{side}/1"
            shop.read("valve_shim", place, "gap", gap, quantity="clearance", gauge=feeler)
            shop.read("valve_shim", place, "shim", "2.25", quantity="thickness", gauge=feeler)
    return shop


@case
def compression_of_a_v6_with_two_neighbours_low() -> Workshop:
    shop = Workshop(V6)
    gauge = shop.gauge("Compression gauge", sort="compression_gauge", unit="bar", resolution="0.1", mpe="0.3")
    shop.limit("compression_cold", "pressure", "9.0", "", "bar")
    for cylinder, dry in enumerate(("12.1", "11.9", "8.2", "12.0", "7.9", "11.8"), 1):
        shop.read("compression_cold", f"bore/{cylinder}", "dry", dry, "bar", quantity="compression", gauge=gauge)
    shop.read("compression_cold", "bore/3", "wet", "120 psi", "psi", quantity="compression", gauge=gauge)
    return shop


@case
def oil_pressure_by_speed() -> Workshop:
    shop = Workshop(V6)
    for reading, value, unit, quantity in (
        ("idle", "1.2", "bar", "oil_pressure"), ("idle_speed", "850", "r/min", "speed"),
        ("first", "55", "psi", "oil_pressure"), ("first_speed", "2000", "r/min", "speed"),
        ("oil_temperature", "95", "°C", "temperature"),
    ):  # fmt: skip
        shop.read("oil_pressure", "engine", reading, value, unit, quantity=quantity)
    return shop


@case
def compression_ratio_before_and_after_a_skim() -> Workshop:
    shop = Workshop()
    shop.size("compression_ratio", "stroke", ["94.6"])
    shop.size("compression_ratio", "gasket_bore", ["87.0"])
    shop.size("compression_ratio", "gasket_thickness", ["1.2"])
    shop.read_all("cylinder_bore", "bore/1", BORE)
    for reading, value, unit, quantity in (
        ("chamber", "46.5", "cm³", "volume"), ("deck", "0.15", "mm", "depth"), ("dish", "8", "cm³", "volume"),
        ("skim", "0.25", "mm", "depth"),
    ):  # fmt: skip
        shop.read("compression_ratio", "chamber/1", reading, value, unit, quantity=quantity)
    return shop


@case
def a_face_along_its_lines() -> Workshop:
    shop = Workshop(FOUR)
    lines = {"long_1": "0.05", "long_2": "0.04", "cross_1": "0.03", "cross_2": "0.02", "cross_3": "0.02"}
    shop.limit("head_flatness", "flatness", "", "0.050")
    feeler = shop.gauge("Feeler set", sort="feeler_gauges", resolution="0.01", mpe="0.005")
    shop.read_all("head_flatness", "head/A", lines, quantity="flatness", gauge=feeler)
    shop.read_all(
        "head_flatness", "head/A", {"diagonal_1": "0.03", "diagonal_2": "0.04"}, quantity="flatness", gauge=feeler
    )
    return shop


@case
def cam_lobes_against_nominal_and_the_best() -> Workshop:
    shop = Workshop(FOUR)
    shop.size("cam_lobe", "nominal_lift", ["9.20"])
    for cylinder, nose in ((1, "45.18"), (2, "44.91"), (3, "45.20")):
        shop.read("cam_lobe", f"lobe/{cylinder}/inlet", "nose", nose, quantity="height")
        shop.read("cam_lobe", f"lobe/{cylinder}/inlet", "base", "36.00", quantity="height")
    return shop


@case
def gaps_of_rings_in_their_bores() -> Workshop:
    shop = Workshop(FOUR)
    shop.read_all("cylinder_bore", "bore/3", BORE)
    shop.read_all("ring_gap", "ring/3", {"top": "0.35", "second": "14 thou"}, unit="", quantity="end_gap")
    shop.read_all(
        "ring_gap", "ring/4", {"top": "0.35 mm", "second": "0.40 mm", "oil": "0.5 mm"}, unit="", quantity="end_gap"
    )
    return shop


@case
def what_cannot_be_counted_with_stays_in_sight() -> Workshop:
    shop = Workshop()
    shop.read("cylinder_bore", "bore/1", "top/thrust", "about 86", "mm")
    shop.read("cylinder_bore", "bore/1", "top/thrust", "86.06", "bar", quantity="compression")
    shop.read("cylinder_bore", "bore/1", "top/thrust", "86.061", "mm")
    shop.read("cylinder_bore", "bore/1", "top/axial", "5", "bar", quantity="compression")
    shop.read("cylinder_bore", "bore/1", "halfway/thrust", "86.05", "mm")
    shop.read("cylinder_bore", "bore/7", "top/thrust", "86.05", "mm")
    return shop


@case
def a_procedure_that_nobody_knows_here() -> Workshop:
    shop = Workshop()
    shop.read("own_liner_seat", "bore/1", "top", "91.020")
    shop.read("own_liner_seat", "bore/1", "top", "91.024")
    shop.read("own_liner_seat", "bore/1", "bottom", "91.011", point="at the foot")
    return shop


@case
def a_procedure_of_the_workshop_in_two_editions() -> Workshop:
    shop = Workshop(FOUR)
    procedure = {
        "code": "own_liner_seat", "edition": 1, "name": "Seat of a liner", "part": "bore", "quantity": "diameter",
        "about": "Invented.", "cautions": ["Invented: mind the edge."], "optional": [], "readings": [], "sizes": [],
        "grid": [{"axis": "height", "words": "height",
                  "values": [{"code": "1", "words": "at the top"}, {"code": "0", "words": "at the foot"}]}],
        "figures": [{"code": "taper", "words": "taper", "kind": "length", "do": "largest_spread", "of": ["grid"],
                     "along": "height", "by": "", "definition": "Largest less smallest.", "guide": None}],
        "across": [{"code": "mean_taper", "words": "mean taper", "do": "mean", "of": "taper", "share": "",
                    "definition": "Over all seats."}],
        "walk": "reading", "drawing": "bore",
    }  # fmt: skip
    shop.says("procedure_described", "procedure", procedure)
    shop.says("procedure_described", "procedure", procedure | {"edition": 2, "name": "Seat of a liner, edition 2"})
    for cylinder in (1, 2):
        shop.read_all(
            "own_liner_seat", f"bore/{cylinder}", {"1": "91.020", "0": f"91.01{cylinder}"}, gauge=shop.gauge()
        )
    return shop


@case
def single_readings_outside_any_procedure() -> Workshop:
    shop = Workshop()
    shop.read("", "bore/1", "", "86.0", point="top, thrust")
    shop.read("", "bore/1", "", "86.1", point="top, thrust")
    shop.read("", "bore/1", "", "11.5", "bar", quantity="compression")
    shop.read("", "oil_pump", "", "worn", "", quantity="smell", point="cover")
    return shop


@case
def an_engine_whose_type_is_not_known() -> Workshop:
    shop = Workshop(None)
    shop.read_all("cylinder_bore", "bore/1", BORE)
    shop.read("piston_clearance", "piston/1", "skirt", "85.98")
    return shop


@case
def the_same_gauge_twice_in_a_difference() -> Workshop:
    shop = Workshop()
    gauge = shop.gauge("Micrometer 2", sort="external_micrometer", mpe="0.004")
    shop.limit("gudgeon_pin_fit", "clearance", "0.005", "0.015")
    shop.read("gudgeon_pin_fit", "gudgeon_pin/1", "hole", "22.010", gauge=gauge)
    shop.read("gudgeon_pin_fit", "gudgeon_pin/1", "shaft", "22.001", gauge=gauge)
    return shop
