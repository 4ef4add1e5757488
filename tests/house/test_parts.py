"""What the program is made of is listed: versions that were tried, hashes, licences, and a bill of materials."""

from __future__ import annotations

import importlib.util
import json
import re
import subprocess
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).resolve().parents[2]
PARTS = ROOT / "server" / "parts"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
PINNED = re.compile(r"^([a-z0-9._-]+)==([^ ;\\\n]+)", re.MULTILINE)


def pinned(name: str) -> dict[str, set[Version]]:
    """The versions of each part in a list; there are two where systems or Pythons differ."""
    result: dict[str, set[Version]] = {}
    for part, version in PINNED.findall((PARTS / name).read_text()):
        result.setdefault(canonicalize_name(part), set()).add(Version(version))
    return result


def required(*extras: str) -> list[Requirement]:
    lines = PROJECT["dependencies"] + [line for extra in extras for line in PROJECT["optional-dependencies"][extra]]
    return [requirement for requirement in map(Requirement, lines) if requirement.name != "witnessmark"]


@pytest.fixture(scope="module")
def bill():
    spec = importlib.util.spec_from_file_location("bill", PARTS / "bill.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_every_requirement_has_a_lowest_and_a_highest_version():
    for requirement in required(*PROJECT["optional-dependencies"]):
        signs = sorted(specifier.operator for specifier in requirement.specifier)
        assert signs in (["<", ">="], ["=="]), requirement


@pytest.mark.parametrize(
    ("name", "extras"),
    [("constraints.txt", ("speech", "dictation", "test")), ("lowest.txt", ()), ("lock.txt", ())],
)
def test_the_lists_hold_to_what_is_required(name, extras):
    versions = pinned(name)
    for requirement in required(*extras):
        for version in versions[canonicalize_name(requirement.name)]:
            assert version in requirement.specifier, requirement
            if name == "lowest.txt":
                (least,) = [each.version for each in requirement.specifier if each.operator == ">="]
                assert str(version).startswith(least), requirement


def test_the_lock_is_of_what_was_tested_and_has_a_hash_for_every_part(bill):
    tested = pinned("constraints.txt")
    locked = list(bill.of_the_server())
    assert len(locked) > 20
    for name, version, hashes in locked:
        assert Version(version) in tested[name], name
        assert hashes, name


def test_no_list_names_where_parts_come_from():
    for path in PARTS.glob("*.txt"):
        assert not re.search(r"://|index-url|find-links", path.read_text()), path.name


def test_every_shipped_part_has_its_licence_and_no_other_is_listed(bill):
    licences = bill.licences()
    assert set(licences["server"]) == {name for name, *_ in bill.of_the_server()}
    assert set(licences["apps"]) == {name for name, *_ in bill.of_the_apps()}
    extras = [requirement for requirement in required("speech", "dictation") if requirement not in required()]
    assert set(licences["hearing"]) == {requirement.name for requirement in extras}


def test_the_bill_of_materials_is_one_by_its_own_schema(bill):
    """The outside judge is the published schema of CycloneDX 1.6, as its own library carries it."""
    # Imported here because it takes seconds, which every worker would spend while it collects.
    from cyclonedx.schema import SchemaVersion
    from cyclonedx.validation.json import JsonStrictValidator

    text = bill.as_json(PROJECT["version"])
    assert JsonStrictValidator(SchemaVersion.V1_6).validate_str(text) is None
    components = {part["purl"]: part for part in json.loads(text)["components"]}
    assert {"pkg:npm/preact@11.2.0", "pkg:npm/%40preact/signals@2.11.4"} <= set(components)
    (flask,) = [part for purl, part in components.items() if purl.startswith("pkg:pypi/flask@")]
    assert flask["licenses"] == [{"license": {"id": "BSD-3-Clause"}}] and flask["hashes"]


def test_the_commands_of_the_readme_install_what_was_tested():
    readme = (ROOT / "README.md").read_text()
    commands = [line for line in readme.splitlines() if line.startswith(("- run: `", "- test: `"))]
    assert len(commands) == 2
    assert all("pip install -c server/parts/constraints.txt " in command for command in commands)


def test_the_run_of_everything_takes_whole_commands_from_the_documents(tmp_path):
    """Each command ends where its code ends, whatever else stands in its line."""
    stub = tmp_path / "bash"
    stub.write_text('#!/bin/sh\nprintf "%s\\n" "ran: $2"\n')
    stub.chmod(0o755)
    done = subprocess.run(
        ["/bin/bash", ROOT / ".ci" / "run"],
        env={"PATH": f"{tmp_path}:/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=True,
    )
    ran = [line.removeprefix("ran: ") for line in done.stdout.splitlines() if line.startswith("ran: ")]
    assert [command.split(" && ")[-1] for command in ran] == [
        ".venv/bin/pytest",
        ".venv-oldest/bin/python tests/smoke.py",
    ]
    assert not any("`" in command for command in ran)
