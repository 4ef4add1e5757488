"""A measuring procedure is checked as a whole: every fault is found, named by its line and explained."""

import copy
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.measuring.procedure_lines import ACROSS, OPERATIONS
from witnessmark.trade.measuring.procedures import (
    BUILT_IN,
    check,
    grid_codes,
    point_words,
    quantity_of,
    read_file,
    reading_codes,
    required,
    write_file,
)

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "procedures.json").read_text())
ALL = {procedure["code"]: procedure for procedure in [VECTORS["base"], *VECTORS["procedures"]]}


def changed(procedure, paths, without=()):
    procedure = copy.deepcopy(procedure)
    for path, value in paths.items():
        *way, last = path.split(".")
        held = procedure
        for step in way:
            held = held[int(step)] if isinstance(held, list) else held[step]
        held[int(last) if isinstance(held, list) else last] = value
    return {name: value for name, value in procedure.items() if name not in without}


@all_cases("code", BUILT_IN)
def test_a_procedure_that_comes_with_the_program_has_no_fault(code):
    assert check(BUILT_IN[code]) == []


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_the_faults_of_a_procedure_with(case):
    procedure = changed(VECTORS["base"], case["set"], case["without"])
    assert [{"where": fault.where, "message": fault.message} for fault in check(procedure)] == case["faults"]


@pytest.mark.parametrize("case", VECTORS["no_procedure"], ids=lambda case: repr(case["value"]))
def test_something_else_is_no_procedure(case):
    assert [{"where": fault.where, "message": fault.message} for fault in check(case["value"])] == case["faults"]


@pytest.mark.parametrize("case", VECTORS["asked"], ids=lambda case: case["of"])
def test_what_a_procedure_asks_for(case):
    procedure = ALL[case["of"]]
    assert grid_codes(procedure) == case["grid"]
    assert reading_codes(procedure) == case["readings"]
    assert required(procedure) == case["required"]
    assert {code: point_words(procedure, code) for code in case["words"]} == case["words"]
    assert {code: quantity_of(procedure, code) for code in case["quantities"]} == case["quantities"]


def test_an_unknown_operation_is_refused_with_its_line_and_all_that_are_known():
    faults = check(changed(VECTORS["base"], {"figures.1.do": "average"}))
    assert [fault.where for fault in faults] == ["figures.1.do"]
    assert "Line 2 (ovality): there is no operation 'average'" in faults[0].message
    assert all(operation in faults[0].message for operation in OPERATIONS)


def test_a_workshop_cannot_take_the_place_of_a_procedure_that_comes_with_the_program():
    bore = changed(BUILT_IN["cylinder_bore"], {"name": "Ours"})
    assert [fault.where for fault in check(bore)] == ["code"]
    assert check(bore | {"code": "own_bore"}) == []


def test_every_operation_is_explained_where_procedures_are():
    import witnessmark.trade.measuring.procedures as module

    words = module.__doc__.replace(",", " ").split()
    assert {*OPERATIONS, *ACROSS} <= set(words)


anything = st.recursive(
    st.none() | st.booleans() | st.integers(-3, 40) | st.floats() | st.sampled_from(["", "grid", "wear", "top", "1/2"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["code", "words", "do", "of", "values", "quantity"]), inner, max_size=6)
    ),
    max_leaves=8,
)


@given(data=st.data())
def test_the_check_answers_whatever_it_is_given(data):
    procedure = copy.deepcopy(VECTORS["base"])
    for _ in range(data.draw(st.integers(1, 3))):
        name = data.draw(st.sampled_from(sorted(procedure)))
        held = procedure[name]
        if isinstance(held, list) and held and data.draw(st.booleans()):
            index = data.draw(st.integers(0, len(held) - 1))
            if isinstance(held[index], dict) and held[index] and data.draw(st.booleans()):
                held[index][data.draw(st.sampled_from(sorted(held[index])))] = data.draw(anything)
            else:
                held[index] = data.draw(anything)
        else:
            procedure[name] = data.draw(anything)
    for fault in check(procedure):
        assert fault.where and fault.message.endswith(".")


def test_a_procedure_comes_back_from_its_file_as_it_went_in():
    data = write_file(VECTORS["base"])
    assert read_file(data) == VECTORS["base"]
    assert write_file(read_file(data)) == data
    assert b'"format": "witnessmark procedure 1"' in data


@pytest.mark.parametrize(
    "data", [b"", b"\xff\xfe", b"[1]", b'{"format": "witnessmark engine type 1"}', b"[" * 100_000, b'{"procedure": {}}']
)
def test_another_file_is_refused_in_words(data):
    with pytest.raises(Refusal) as refused:
        read_file(data)
    assert "Choose" in refused.value.message
