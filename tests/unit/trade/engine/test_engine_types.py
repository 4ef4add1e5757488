"""An engine type is checked as a whole: every fault is found, named by its field and explained."""

import copy
import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.trade.engine.types import check, read_file, write_file
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.tables import table

VECTORS = json.loads((Path(__file__).parents[3] / "vectors" / "engine_types.json").read_text())
ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}


def changed(engine, paths, without=()):
    engine = copy.deepcopy(engine)
    for path, value in paths.items():
        *way, last = path.split(".")
        held = engine
        for step in way:
            held = held[int(step)] if isinstance(held, list) else held[step]
        held[int(last) if isinstance(held, list) else last] = value
    return {name: value for name, value in engine.items() if name not in without}


@pytest.mark.parametrize("engine", ENGINES.values(), ids=ENGINES.keys())
def test_the_invented_engines_have_no_fault_and_say_that_they_are_invented(engine):
    assert check(engine) == []
    assert engine["invented"] is True and "nvented" in engine["notes"]


def test_there_is_an_invented_engine_of_each_layout():
    assert {engine["layout"] for engine in ENGINES.values()} == {"inline", "v", "flat", "single"}


@all_cases("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_the_faults_of_an_engine_type_with(case):
    engine = changed(ENGINES[case["of"]], case["set"], case["without"])
    assert [{"where": fault.where, "message": fault.message} for fault in check(engine)] == case["faults"]


@pytest.mark.parametrize("case", VECTORS["no_engine_type"], ids=lambda case: repr(case["value"]))
def test_something_else_is_no_engine_type(case):
    assert [{"where": fault.where, "message": fault.message} for fault in check(case["value"])] == case["faults"]


anything = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-3, 40)
    | st.floats()
    | st.sampled_from(["", "A", "B", "head_bolt/A", "inlet"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["code", "bank", "drives", "fasteners", "name", "label"]), inner, max_size=4)
    ),
    max_leaves=8,
)


@given(data=st.data())
def test_the_check_answers_whatever_it_is_given(data):
    engine = copy.deepcopy(ENGINES["Halvern 2.9 V6"])
    for name in data.draw(st.lists(st.sampled_from(sorted(engine)), min_size=1, max_size=3)):
        value = data.draw(anything)
        if isinstance(engine[name], list) and engine[name] and data.draw(st.booleans()):
            engine[name] = [*engine[name][1:], value]
        else:
            engine[name] = value
    for fault in check(engine):
        assert fault.where and fault.message.endswith(".")


def test_an_engine_type_comes_back_from_its_file_as_it_went_in():
    engine = ENGINES["Brantholm flat four"]
    data = write_file(engine)
    assert read_file(data) == engine
    assert write_file(read_file(data)) == data
    assert b'"format": "witnessmark engine type 1"' in data


@pytest.mark.parametrize(
    "data", [b"", b"\xff\xfe", b"[1]", b'{"format": "another"}', b"[" * 100_000, b'{"engine_type": {}}']
)
def test_another_file_is_refused_in_words(data):
    with pytest.raises(Refusal) as refused:
        read_file(data)
    assert "Choose" in refused.value.message
