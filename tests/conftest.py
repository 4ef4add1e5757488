"""Fixtures live in tests/support, one plugin for each thing they set up."""

from collections import Counter

pytest_plugins = [
    "tests.support.built",
    "tests.support.chromium",
    "tests.support.quick_hashes",
    "tests.support.workshop",
    "tests.support.packs",
    "tests.support.said",
    "tests.support.bay",
    "tests.support.torque",
    "tests.support.office",
    "tests.support.recognisers",
]


# A broken rule is told in seconds, before any browser starts.
FAST_FIRST = ("test_house.py", "unit", "test_phone_units.py", "server", "outside", "broken_packs", "browser")


# The longest files of the browser: with several workers none is then left alone with one of them at the end.
LONGEST_FIRST = ("test_office_looks.py", "test_measuring_offline.py", "test_bay_looks.py", "test_spoken_offline.py")


def pytest_collection_modifyitems(items):
    count = Counter(item.path for item in items)

    def turn(item) -> tuple[int, int]:
        room = item.path.relative_to(item.config.rootpath / "tests").parts[0]
        length = -count[item.path] if room == "browser" else 0
        if item.path.name in LONGEST_FIRST:
            length = LONGEST_FIRST.index(item.path.name) - 1000
        return (FAST_FIRST.index(room) if room in FAST_FIRST else len(FAST_FIRST), length)

    items.sort(key=turn)
