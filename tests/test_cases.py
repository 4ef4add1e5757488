"""Cases that are judged together are all judged: none hides another, and none at all is no test."""

import pytest

from tests.support.cases import all_cases


def test_every_case_that_fails_is_named_and_those_after_it_are_judged_too():
    judged = []

    @all_cases("number, even", [(1, False), (2, False), (3, True), (4, True)], ids=str)
    def is_even(number, even):
        judged.append(number)
        assert (number % 2 == 0) == even

    with pytest.raises(ExceptionGroup) as fault:
        is_even()
    assert judged == [1, 2, 3, 4]
    assert "2 of 4 cases fail" in fault.value.message
    assert "2: 2-False" in fault.value.message and "3: 3-True" in fault.value.message
    assert len(fault.value.exceptions) == 2


def test_a_refusal_that_does_not_come_fails_its_case():
    @all_cases("text", ["1", "one"])
    def is_refused(text):
        with pytest.raises(ValueError):
            int(text)

    with pytest.raises(ExceptionGroup, match="1 of 2 cases fail"):
        is_refused()


def test_no_case_at_all_is_refused_where_the_test_is_written():
    with pytest.raises(ValueError, match="no case"):
        all_cases("case", [])


@all_cases("case", [1, 2])
def test_fixtures_reach_the_cases(case, tmp_path):
    assert tmp_path.is_dir() and case
