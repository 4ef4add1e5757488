"""Fixtures live in tests/support, one plugin for each thing they set up. Here: in which order, and how many at once."""

import os
import sys
from collections import Counter

from hypothesis import settings

# Hundreds of processes are started here, servers and recognisers among them. Where Python was told to keep nothing that
# it compiled, each of them would compile the whole program again.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

pytest_plugins = [
    "tests.support.built",
    "tests.support.chromium",
    "tests.support.demo",
    "tests.support.quick_hashes",
    "tests.support.workshop",
    "tests.support.packs",
    "tests.support.spoken_packs",
    "tests.support.bay",
    "tests.support.torque",
    "tests.support.office",
    "tests.support.recognisers",
]

# For the command of after each change: `--hypothesis-profile quick`. Everything is tried with the usual hundred.
settings.register_profile("quick", max_examples=15)

# A broken rule is told in seconds. What runs in processes of its own begins early, beside the others; the browser is
# last, with its longest files first: none is then left alone with one of them at the end.
ORDER = (
    "test_house.py", "house", "test_cases.py", "simulation", "test_phone_types.py", "test_phone_units.py", "unit",
    "outside", "server", "browser",
)  # fmt: skip
LONGEST_FIRST = (
    "test_office_looks.py", "test_spoken_offline.py", "test_tightening_offline.py", "test_procedures_offline.py",
    "test_measuring_offline.py", "test_capture_offline.py", "test_capture_trouble.py", "test_bay_looks.py",
    "test_office_tightening.py", "test_office_spoken.py",
)  # fmt: skip


def pytest_xdist_auto_num_workers() -> int:
    """One more than there are cores: much of it is waiting for a browser or a server."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return cores + 1


def pytest_addoption(parser):
    parser.addoption("--all", action="store_true", help="each promise on all its engines, sounds and schedules")


def pytest_collection_modifyitems(config, items):
    if not config.getoption("all"):
        config.hook.pytest_deselected(items=[item for item in items if item.get_closest_marker("further_input")])
        items[:] = [item for item in items if not item.get_closest_marker("further_input")]
    count = Counter(item.path for item in items)

    def turn(item) -> tuple[int, int]:
        room = item.path.relative_to(item.config.rootpath / "tests").parts[0]
        length = -count[item.path] if room == "browser" else 0
        if item.path.name in LONGEST_FIRST:
            length = LONGEST_FIRST.index(item.path.name) - 1000
        return (ORDER.index(room) if room in ORDER else len(ORDER), length)

    items.sort(key=turn)
