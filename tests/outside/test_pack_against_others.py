"""A pack before outside judges: the package bagit, sha256sum, openssl, and a Python that has nothing of ours."""

from __future__ import annotations

import hashlib
import subprocess
import sys
import zipfile

import bagit
import pytest

from witnessmark.db import reading
from witnessmark.operate.log_export import export
from witnessmark.proof import keys, layout, pyz
from witnessmark.proof.verify import verify


@pytest.fixture(params=["sealed", "customer"])
def folder(request, packed, tmp_path):
    """An unpacked pack of either sort."""
    with zipfile.ZipFile(getattr(packed, request.param).path) as archive:
        archive.extractall(tmp_path)
    return next(tmp_path.iterdir())


def run(*command: str, cwd) -> subprocess.CompletedProcess:
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False)


def test_the_package_bagit_finds_a_valid_bag(folder):
    bag = bagit.Bag(str(folder))

    assert bag.validate(processes=1, fast=False, completeness_only=False)
    assert bag.info["Witnessmark-Pack-Sort"] in folder.name


def test_sha256sum_accepts_every_byte_and_notices_one_turned_bit(folder):
    for manifest in (layout.MANIFEST, layout.TAG_MANIFEST):
        assert run("sha256sum", "-c", "--quiet", manifest, cwd=folder).returncode == 0
    (folder / layout.PAGE).write_bytes((folder / layout.PAGE).read_bytes() + b" ")
    assert run("sha256sum", "-c", "--quiet", layout.MANIFEST, cwd=folder).returncode != 0


@pytest.mark.parametrize(
    ("signature", "signed"), [(layout.HEAD_SIGNATURE, layout.HEAD), (layout.SEAL, layout.TAG_MANIFEST)]
)
def test_openssl_accepts_the_servers_signature_and_no_other_text(folder, signature, signed):
    command = ("openssl", "dgst", "-sha256", "-verify", layout.SERVER_KEY, "-signature", signature, signed)

    assert "Verified OK" in run(*command, cwd=folder).stdout
    (folder / signed).write_bytes((folder / signed).read_bytes().replace(b"1", b"2", 1))
    assert "Verified OK" not in run(*command, cwd=folder).stdout


def test_the_commands_in_read_me_first_do_what_they_say(folder, packed, tmp_path):
    log = tmp_path / "log.jsonl"
    with reading(packed.office.engine) as conn:
        export(conn, log)
    named = {"EARLIER.zip": packed.sealed.path, "LATER.zip": packed.customer.path, "LOG": log}
    lines = (folder / layout.READ_ME).read_text().splitlines()
    commands = [line.strip() for line in lines if line.strip().startswith(("sha256sum", "openssl", "python3"))]
    for name, path in named.items():
        commands = [command.replace(name, str(path)) for command in commands]
    results = [run("sh", "-c", command, cwd=folder) for command in commands]

    assert len(commands) == 9
    assert [result.returncode for result in results] == [0] * 9, results
    assert results[4].stdout.strip() == verify(folder).facts["server"]


def test_openssl_and_we_give_the_server_the_same_name(folder):
    der = subprocess.run(
        ["openssl", "pkey", "-pubin", "-in", layout.SERVER_KEY, "-outform", "DER"],
        cwd=folder,
        capture_output=True,
        check=True,
    ).stdout

    assert hashlib.sha256(der).hexdigest()[:32] == keys.server_id(der) == verify(folder).facts["server"]


def test_the_verifier_in_the_pack_runs_on_a_python_that_has_nothing_of_ours(folder):
    """-I and -S: no site packages, no environment, no folder of the checkout."""
    process = run(sys.executable, "-I", "-S", "verify.pyz", cwd=folder)
    assert (process.returncode, process.stderr) == (0, "")
    assert "Result: no fault found." in process.stdout

    (folder / layout.RECEIPTS).write_bytes((folder / layout.RECEIPTS).read_bytes()[:-2])
    process = run(sys.executable, "-I", "-S", "verify.pyz", ".", cwd=folder)
    assert process.returncode == 2
    assert f"(3) {layout.RECEIPTS}" in process.stdout


def test_the_verifier_alone_judges_a_zip_in_another_folder(packed, tmp_path):
    (tmp_path / "verify.pyz").write_bytes(pyz.make())
    process = run(sys.executable, "-I", "-S", "verify.pyz", str(packed.sealed.path), cwd=tmp_path)

    assert (process.returncode, process.stderr) == (0, "")
    assert run(sys.executable, "-I", "-S", "verify.pyz", cwd=tmp_path).returncode == 1


def test_the_verifier_holds_only_the_room_that_knows_no_other(tmp_path):
    (tmp_path / "verify.pyz").write_bytes(pyz.make())
    with zipfile.ZipFile(tmp_path / "verify.pyz") as archive:
        names = archive.namelist()

    assert all(
        name == "__main__.py" or name.startswith(("witnessmark/__init__", "witnessmark/proof/")) for name in names
    )
    assert pyz.make() == pyz.make()
