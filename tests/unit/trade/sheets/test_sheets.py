"""A job's readings come to the same sheet everywhere: as written down, as worked out by hand, in whatever order."""

import json
import random
from decimal import Decimal
from fractions import Fraction
from math import sqrt
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sheets import few, make
from tests.sheets.hard_cases import CASES
from tests.sheets.said import BORE, FOUR, PIN, SINGLE, V6, Workshop
from tests.support.cases import all_cases
from witnessmark.trade.ground import units
from witnessmark.trade.measuring import gauges, known, limits, procedures
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.sheets import job_sheets as sheets
from witnessmark.trade.sheets import wear

VECTORS = Path(__file__).parents[3] / "vectors"
CHECKS = {
    "gauge": gauges.check,
    "limit": limits.check,
    "size": limits.check_size,
    "rules": measuring_rules.check,
    "procedure": procedures.check,
}


def written(name):
    return json.loads((VECTORS / name).read_text())


def sheets_of(shop):
    return sheets.sheets(shop.engine, shop.readings, known.known(shop.entries))


def figure(shop, place, code, procedure="cylinder_bore", state="as_found"):
    sheet = sheets.sheet(shop.engine, shop.readings, known.known(shop.entries), procedure, state)
    there = next(row for row in sheet["places"] if row["place"] == place)
    return next(figure for figure in there["figures"] if figure["code"] == code)


@all_cases("case", written("sheets.json")["cases"], ids=lambda case: case["name"])
def test_a_case_comes_to_the_sheets_written_down(case):
    shop = CASES[case["name"]]()
    assert (shop.entries, shop.readings) == (case["known"], case["readings"])
    assert sheets_of(shop) == case["sheets"]


def test_every_case_is_written_down_and_the_others_too():
    assert [case["name"] for case in written("sheets.json")["cases"]] == list(CASES)
    assert {key: value for key, value in written("known.json").items() if key != "about"} == make.known_cases()
    assert written("wear.json")["cases"] == make.wear_cases()
    assert written("odd_reading.json")["cases"] == make.odd_cases()


@all_cases("name", CASES)
def test_what_the_cases_rest_on_could_be_entered(name):
    for entry in CASES[name]().entries:
        for field, what in entry["body"].items():
            assert CHECKS[field](what) == []


def test_a_sheet_alone_is_the_sheet_among_all():
    shop = CASES["built with a journal left as found and a bore machined"]()
    statements = known.known(shop.entries)
    for sheet in sheets_of(shop):
        alone = sheets.sheet(shop.engine, shop.readings, statements, sheet["procedure"], sheet["state"])
        assert alone == sheet


def test_a_blank_sheet_asks_for_everything_and_claims_nothing():
    shop = CASES["a bore judged by service limits"]()
    blank = sheets.sheet(shop.engine, [], known.known(shop.entries), "cylinder_bore", "as_found")
    (place,) = blank["places"]
    assert (place["done"], place["readings"]) == (False, {})
    assert place["missing"] == list(BORE)
    assert {figure["value"] for figure in place["figures"]} == {None}
    assert [reading["code"] for reading in blank["readings_asked"]] == [*BORE, "ridge"]
    assert [limit["sort"] for limit in blank["limits_now"]] == ["new", "service", "service", "service"]
    assert blank["sizes"] == {"nominal": {"values": ["86.000"], "unit": "mm", "source": shop_source(shop)}}


def shop_source(shop):
    return next(entry["body"]["size"]["source"] for entry in shop.entries if entry["kind"] == "size_set")


# Worked by hand. The sums stand here in full and use nothing of the code that they check.


def test_by_hand_ovality_and_its_uncertainty():
    """Top 86.062 less 86.020. Two readings of one gauge: resolution 0.001/sqrt(12) and permissible error 0.003/sqrt(3),
    each for itself (in a difference that gives more than alike); U = 2 u."""
    shop = CASES["a bore judged by service limits"]()
    bore = figure(shop, "bore/1", "ovality")
    u = sqrt(2 * 0.001**2 / 12 + 2 * 0.003**2 / 3)
    assert bore["value"] == "0.042" and bore["U"] == "0.0050" and 0.0049 < 2 * u < 0.0050
    assert bore["from"] == ["top/thrust", "top/axial"]
    (service,) = bore["now"]
    assert (service["standing"], service["excess"], service["side"]) == ("within", "", "")


def test_by_hand_a_taper_just_beyond_its_limit_is_not_proven():
    """Thrust: 86.062 less 86.031 is 0.031, one thousandth beyond 0.030, and U is five of them."""
    bore = figure(CASES["a bore judged by service limits"](), "bore/1", "taper")
    (service,) = bore["now"]
    assert (bore["value"], service["standing"], service["excess"], service["side"]) == (
        "0.031",
        "not proven",
        "0.001",
        "high",
    )
    assert service["settle"]


def test_by_hand_repeats_count_by_their_scatter():
    """53.975, 53.973 and 53.978 have the mean 53.97533 and s = 0.00252; s/sqrt(3) is more than the resolution: it
    counts in its place, with two degrees of freedom for that share alone."""
    bore = figure(CASES["repeats and few degrees of freedom"](), "crankpin/1", "smallest", "crankpin")
    values = [53.975, 53.973, 53.978]
    mean = sum(values) / 3
    scatter = sum((value - mean) ** 2 for value in values) / 2 / 3
    error = 0.002**2 / 3
    freedom = int((scatter + error) ** 2 / (scatter**2 / 2))
    assert bore["value"] == "53.9753"
    assert bore["u"] == f"{sqrt(scatter + error):.4f}" == "0.0019"
    assert bore["dof"] == str(freedom) == "5"
    # JCGM 100:2008, table G.2, from memory: t for 95.45 % and 5 degrees of freedom is 2.65
    assert bore["k"] == "2.65"


def test_by_hand_a_clearance_takes_both_gauges_along():
    """54.030 less the largest of the pin, 53.984. Two gauges that know nothing of each other: 0.003 and 0.002."""
    bore = figure(
        CASES["clearance of a bearing with a borrowed journal"](), "rod_bearing/2", "clearance", "rod_clearance"
    )
    u = sqrt(2 * 0.001**2 / 12 + 0.003**2 / 3 + 0.002**2 / 3)
    assert bore["value"] == "0.046" and bore["u"] == f"{u:.4f}" == "0.0021"
    assert bore["overdue"] == ["Bore gauge 1, calibration was due 2026-05-01"]
    assert bore["guide"].endswith("about 0.054 mm (guide, common practice)")


def test_by_hand_in_inches():
    """3.3883 in is 86.06282 mm, 86.020 mm is 3.386614 in: the ovality is 0.04282 mm, within 2 thou (0.0508 mm)."""
    bore = figure(CASES["units mixed at one place"](), "bore/1", "ovality")
    assert Decimal("3.3883") * Decimal("25.4") - Decimal("86.02") == Decimal("0.04282")
    assert (bore["value"], bore["unit"], bore["now"][0]["standing"]) == ("0.043", "mm", "within")


def test_by_hand_corrected_to_20_degrees():
    """The bore at 28.5 °C and the gauge at 22 °C: iron grows 11.4 and steel 11.5 millionths a kelvin."""
    bore = figure(CASES["temperature of part and gauge"](), "bore/1", "largest")
    at_20 = 86.062 * (1 + 11.5e-6 * 2) / (1 + 11.4e-6 * 8.5)
    assert bore["value"] == f"{at_20:.3f}" == "86.056"
    assert bore["corrected"] == "corrected to 20 °C"
    assert "temperature" in [part["source"] for part in bore["budget"]]


def test_by_hand_all_that_goes_into_a_clearance_is_brought_to_20_degrees_or_nothing():
    """Pin and bearing at 30 °C, the gauge at 20 °C: steel 1040 grows 11.3 millionths a kelvin (Callister, table
    B.6). Of 54 mm that is 6 micrometres: the pin alone corrected would add them to a clearance of 46."""
    shop = CASES["temperatures of some readings only"]()
    bore, both = (figure(shop, f"rod_bearing/{n}", "clearance", "rod_clearance") for n in (1, 2))
    assert (bore["value"], bore["corrected"]) == ("0.046", "")
    assert any("every reading used here: size as read" in part["words"] for part in bore["budget"])
    assert (
        both["value"] == f"{(54.030 - 53.984) / (1 + 11.3e-6 * 10):.3f}" and both["corrected"] == "corrected to 20 °C"
    )
    # The pin's own sheet stays as it is.
    assert figure(shop, "crankpin/1", "largest", "crankpin")["corrected"] == "corrected to 20 °C"
    assert (figure(shop, "bore/1", "wear")["value"], figure(shop, "bore/1", "wear")["corrected"]) == ("0.061", "")


def test_the_metal_of_the_engine_type_is_that_of_the_first_part_alone():
    shop = CASES["a stem of another metal than its guide"]()
    bore = figure(shop, "valve_guide/1/inlet/1", "clearance", "valve_guide_clearance")
    assert (bore["value"], bore["corrected"]) == ("0.040", "")
    next(reading for reading in shop.readings if reading["point"] == "shaft")["body"]["material"] = "steel_4140"
    bore = figure(shop, "valve_guide/1/inlet/1", "clearance", "valve_guide_clearance")
    # Bronze 18.0 and steel 4140 12.3 millionths a kelvin (Callister, table B.6), 20 K above 20 °C.
    by_hand = 18.060 / (1 + 18.0e-6 * 20) - 18.020 / (1 + 12.3e-6 * 20)
    assert (bore["value"], bore["corrected"]) == (f"{by_hand:.3f}", "corrected to 20 °C")


def test_a_later_edition_does_not_change_what_an_earlier_one_came_to():
    shop = CASES["a later edition that means another thing by the same name"]()
    made = {sheet["state"]: sheet for sheet in sheets_of(shop)}
    assert {state: sheet["edition"] for state, sheet in made.items()} == {"as_found": 1, "machined": 2, "built": 2}
    assert [made[state]["places"][0]["figures"][0]["value"] for state in made] == ["0.014", "-0.020", None]
    # Whoever takes the next reading does so by the newest.
    newest = sheets.sheet(shop.engine, shop.readings, known.known(shop.entries), "own_liner_seat", "as_found", True)
    assert (newest["edition"], newest["places"][0]["missing"]) == (2, ["lip"])
    assert list(newest["places"][0]["readings"]) == ["top", "foot"]


def test_a_gauge_taken_away_by_a_correction_is_gone_whatever_the_basis_says():
    (sheet,) = sheets_of(CASES["a reading whose gauge was taken away by a correction"]())
    readings = sheet["places"][0]["readings"]
    assert [readings[code]["values"][0]["overdue"] for code in ("top/thrust", "top/axial")] == [False, True]
    assert [gauge["count"] for gauge in sheet["overdue"]] == [1]


def test_a_pin_that_can_touch_its_bore_is_a_stop_without_any_limit():
    shop = CASES["a gudgeon pin that stands out"]()
    guides = [figure(shop, f"gudgeon_pin/{n}", "least_recess", "gudgeon_pin_centring")["guide"] for n in (1, 2, 3, 4)]
    assert [guide[:4] for guide in guides] == ["STOP", "", "STOP", ""]


def test_readings_of_any_length_make_a_sheet():
    """Two readings of fifteen decimals have a mean of sixteen, more than anybody may type."""
    (sheet,) = sheets_of(CASES["readings with as many digits as can be typed"]())
    assert sheet["places"][0]["readings"]["top/thrust"]["mean"] == "86.0000000000000015"


def test_by_hand_a_shim():
    """2.25 in place and 0.31 of gap make 2.56; less 0.20 wanted that is 2.36, and 2.35 lies nearest: 0.21 is left."""
    shop = CASES["valve clearances with limits for either side"]()
    values = {
        code: figure(shop, "valve/1/inlet/1", code, "valve_shim")["value"] for code in ("new_shim", "resulting_gap")
    }
    assert values == {"new_shim": "2.35", "resulting_gap": "0.21"}
    assert figure(shop, "valve/1/exhaust/1", "clearance", "valve_shim")["now"] == []
    assert figure(shop, "valve/1/exhaust/1", "new_shim", "valve_shim")["missing"] == ["target gap"]


def test_by_hand_compression():
    """75 % of 12.1 bar is 9.075: cylinders 3 and 5 of bank A lie under it, side by side."""
    (sheet,) = [sheet for sheet in sheets_of(CASES["compression of a v6 with two neighbours low"]())]
    across = {line["code"]: line for line in sheet["across"]}
    assert (across["spread"]["value"], across["spread"]["unit"]) == ("34.7", "%")  # (12.1 - 7.9) / 12.1
    assert across["neighbours"]["places"] == ["bore/3", "bore/5"]
    assert across["neighbours"]["words_said"].startswith("bore 3 and bore 5: side by side, both under 9.08 bar (75 %")


# What must hold whatever is read.


def test_a_gauge_past_its_date_is_said_for_good():
    shop = CASES["a gauge past its date for good"]()
    (sheet,) = sheets_of(shop)
    assert sheet["overdue"] == [{"gauge": "Bore gauge 4", "due": "2026-05-01", "count": 6}]
    read = [value for reading in sheet["places"][0]["readings"].values() for value in reading["values"]]
    assert all(value["overdue"] for value in read)
    figures = sheet["places"][0]["figures"]
    assert all(figure["overdue"] for figure in figures if figure["value"] is not None and figure["from"])


def test_a_changed_limit_leaves_the_old_verdict_in_sight():
    shop = CASES["a limit changed after it was measured"]()
    bore = figure(shop, "bore/1", "ovality")
    assert [(v["high"], v["standing"]) for v in bore["now"]] == [("0.060", "within")]
    assert [(v["high"], v["standing"]) for v in bore["then"]] == [("0.030", "outside")]
    assert figure(shop, "bore/1", "taper")["then"] is None


def test_a_reading_never_gains_or_loses_a_digit():
    (sheet,) = sheets_of(CASES["units mixed at one place"]())
    shown = {code: (reading["mean"], reading["unit"]) for code, reading in sheet["places"][0]["readings"].items()}
    assert shown["top/thrust"] == ("3.3883", "in") and shown["middle/thrust"] == ("86,048", "mm")
    assert shown["bottom/axial"] == ("3 193/500", "in")


values = st.integers(85_900, 86_200).map(
    lambda thousandths: f"{Fraction(thousandths, 1000):}" and f"{thousandths / 1000:.3f}"
)


@settings(max_examples=25, deadline=None)
@given(readings=st.lists(st.tuples(st.sampled_from(list(BORE)), values), min_size=1, max_size=14), seed=st.randoms())
def test_the_order_of_the_entries_does_not_matter(readings, seed):
    shop = Workshop()
    gauge = shop.gauge()
    shop.limit("cylinder_bore", "ovality", "", "0.050")
    for reading, value in readings:
        shop.read("cylinder_bore", "bore/1", reading, value, gauge=gauge)
    expected = sheets_of(shop)
    random.Random(seed.random()).shuffle(shop.readings)
    assert sheets_of(shop) == expected


@settings(max_examples=25, deadline=None)
@given(readings=st.lists(st.tuples(st.sampled_from(list(BORE)), values), min_size=2, max_size=10), at=st.integers(0, 9))
def test_a_withdrawn_reading_was_never_made(readings, at):
    """Withdrawn readings are left out by the caller; nothing of them may be left in what the others come to."""
    with_it, without = Workshop(), Workshop()
    for shop, some in ((with_it, readings), (without, [r for i, r in enumerate(readings) if i != at])):
        gauge = shop.gauge()
        for reading, value in some:
            shop.read("cylinder_bore", "bore/1", reading, value, gauge=gauge)
    if at < len(with_it.readings):
        del with_it.readings[at]
    assert numbers(with_it) == numbers(without)


def numbers(shop):
    """All that a sheet says, identifiers and exhibit numbers left aside."""
    text = json.dumps(sheets_of(shop))
    for given_one in shop.readings:
        text = text.replace(given_one["id"], "-").replace(f'"exhibit": "{given_one["exhibit"]}"', '"exhibit": ""')
    return text


@settings(max_examples=25, deadline=None)
@given(
    readings=st.dictionaries(st.sampled_from(list(BORE)), values, min_size=6),
    rule=st.sampled_from(list(measuring_rules.RULES)),
)
def test_the_same_sizes_in_inches_stand_the_same(readings, rule):
    standings = []
    for inches in (False, True):
        shop = Workshop()
        gauge = shop.gauge()
        shop.rules(rule=rule)
        shop.limit("cylinder_bore", "ovality", "", "0.050")
        shop.limit("cylinder_bore", "largest", "86.000", "86.100")
        for reading in BORE:
            millimetres = Fraction(readings[reading])
            inch = units.convert(millimetres, "mm", "in")
            # Exactly the same size: as a vulgar fraction, since no decimal of an inch is one.
            whole, rest = divmod(inch, 1)
            typed = f"{whole} {rest.numerator}/{rest.denominator}" if rest else f"{whole}"
            value, unit = (typed, "in") if inches else (readings[reading], "mm")
            shop.read("cylinder_bore", "bore/1", reading, value, unit, gauge=gauge)
        standings.append(
            [
                (v["standing"], v["side"], v["probability"])
                for code in ("ovality", "largest")
                for v in figure(shop, "bore/1", code)["now"]
            ]
        )
    assert standings[0] == standings[1]


def test_procedures_that_borrow_from_each_other_come_to_an_end():
    shop = Workshop()
    ring = {
        "code": "own_a", "edition": 1, "name": "A", "part": "bore", "quantity": "diameter", "about": "Invented.",
        "cautions": [], "optional": [], "sizes": [], "grid": [], "across": [], "walk": "place", "drawing": "list",
        "readings": [
            {"code": "one", "words": "one", "quantity": "diameter", "optional": False, "borrow": None},
            {"code": "other", "words": "other", "quantity": "diameter", "optional": False,
             "borrow": {"procedure": "own_b", "figure": "sum", "part": "bore"}},
        ],
        "figures": [{"code": "sum", "words": "sum", "kind": "length", "do": "sum", "of": ["one", "other"], "along": "",
                     "by": "", "definition": "Both.", "guide": None}],
    }  # fmt: skip
    back = json.loads(json.dumps(ring).replace("own_b", "own_x").replace("own_a", "own_b").replace("own_x", "own_a"))
    for procedure in (ring, back):
        assert procedures.check(procedure) == []
        shop.says("procedure_described", "procedure", procedure)
        shop.read(procedure["code"], "bore/1", "one", "10.0")
    assert figure(shop, "bore/1", "sum", "own_a")["value"] is None


def test_a_whole_job_is_quick():
    """500 readings of a V6; the phone's twin has its own test of speed."""
    shop = a_large_job()
    assert len(shop.readings) >= 500
    assert {sheet["procedure"] for sheet in sheets_of(shop)} >= {"cylinder_bore", "crankpin", "piston_clearance"}


def a_large_job():
    shop = Workshop(V6)
    gauge = shop.gauge()
    for code, figures in (("cylinder_bore", ("ovality", "taper", "largest")), ("crankpin", ("ovality", "smallest"))):
        for figure in figures:
            shop.limit(code, figure, "", "86.100" if figure in ("largest", "smallest") else "0.020")
    for state in ("as_found", "machined"):
        for cylinder in range(1, 7):
            for _ in range(4):
                shop.read_all("cylinder_bore", f"bore/{cylinder}", BORE, gauge=gauge, state=state)
            shop.read("piston_clearance", f"piston/{cylinder}", "skirt", "85.980", gauge=gauge, state=state)
            shop.read("rod_clearance", f"rod_bearing/{cylinder}", "housing", "54.030", gauge=gauge, state=state)
        for pin in (1, 2, 3):
            for _ in range(4):
                shop.read_all("crankpin", f"crankpin/{pin}", PIN, gauge=gauge, state=state)
        for main in (1, 2, 3, 4):
            shop.read_all("main_journal", f"main/{main}", PIN, gauge=gauge, state=state)
    return shop


def test_the_invented_engines_are_the_invented_engines():
    assert {SINGLE["invented"], FOUR["invented"], V6["invented"]} == {True}
    assert few.WEAR and few.ODD


def test_wear_is_of_one_and_the_same_thing():
    from_then, from_now = (CASES["a bore judged by service limits"]() for _ in range(2))
    then, now = (sheets_of(shop)[0] for shop in (from_then, from_now))
    now["places"][0]["figures"][0] |= {"corrected": "corrected to 20 °C"}
    now["places"][0]["figures"][1] |= {"definition": "Another thing by the same name."}
    words = {change["figure"]: change["words"] for change in wear.wear(now, "", then, "")}
    assert words["largest"] == "largest diameter (only one of the visits corrected to 20 °C)"
    assert words["ovality"] == "ovality" and "smallest" not in words
