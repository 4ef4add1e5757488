"""The phone's and the office's own unit tests."""

from tests.support.npm import PWA, run_script


def test_the_phone_keeps_its_promises_in_its_own_unit_tests():
    run_script("test")


def test_the_lock_file_names_no_registry():
    assert '"resolved"' not in (PWA / "package-lock.json").read_text()
