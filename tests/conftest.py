"""Fixtures live in tests/support, one plugin for each thing they set up."""

pytest_plugins = ["tests.support.workshop", "tests.support.packs", "tests.support.bay", "tests.support.office"]
