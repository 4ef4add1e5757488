"""The types of the phone's and the office's sources; a file of its own, so that it runs beside the unit tests."""

from tests.support.npm import run_script


def test_the_types_of_both_faces_fit():
    run_script("check")
