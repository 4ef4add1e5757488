"""A backup under a passphrase gives nothing away, and one that is damaged says which exhibits it has lost."""

from __future__ import annotations

import io
import tracemalloc
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.media import Sender, jpeg, sha
from tests.support.record import photograph, send
from witnessmark import cli
from witnessmark.config import Settings
from witnessmark.media import store
from witnessmark.operate import backup, backup_folder, encryption
from witnessmark.operate.encryption import HEAD, PIECE, SALT_BYTES, TAG_BYTES, Damaged, FolderKey
from witnessmark.operate.restore import restore
from witnessmark.trade.ground.errors import Refusal

PASSPHRASE = "four bent push rods"


@pytest.fixture(autouse=True)
def quick_guesses(monkeypatch) -> dict:
    """What ships is dear on purpose; returns it."""
    shipped = dict(encryption.SCRYPT)
    monkeypatch.setattr(encryption, "SCRYPT", {"n": 2**4, "r": 8, "p": 1})
    return shipped


@pytest.fixture
def sender(office, phone) -> Sender:
    return Sender(office.app, phone.token)


def pictures(phone, sender: Sender, count: int, width: int = 300) -> list[bytes]:
    """A job with pictures, sent whole: exhibits 2 and up of job 24-118."""
    job = phone.open_job("24-118")
    files = [jpeg(width + number, 200) for number in range(count)]
    for data in files:
        photograph(phone, job, "bore/3", data)
    send(phone)
    for data in files:
        sender.send(data)
    return files


def held(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_an_encrypted_backup_gives_nothing_away_and_brings_everything_back(office, phone, sender, tmp_path):
    files = pictures(phone, sender, 2)
    made = backup.make(office.settings, tmp_path / "backup", passphrase=PASSPHRASE)
    assert made.is_whole and made.originals == 2
    assert not list(office.settings.data.glob("*.new*")), "no copy of the database stays behind"

    there = held(tmp_path / "backup")
    everything = b"".join(there.values())
    for secret in (b"24-118", b"SQLite format", b"PRIVATE KEY", files[0][:16], office.workshop.name.encode()):
        assert secret not in everything, secret
    assert not [name for name in there if any(sha(data)[:12] in name for data in files)]
    assert {path.stat().st_mode & 0o077 for path in (tmp_path / "backup" / "keys").iterdir()} == {0}

    new = Settings(tmp_path / "new", secure_cookies=False)
    back = restore(tmp_path / "backup", new, passphrase=PASSPHRASE)
    assert (back.log_size, back.root, back.originals) == (made.log_size, made.root, 2)
    assert (back.damaged, back.missing, back.faults) == ([], [], [])
    for data in files:
        assert store.path_of(new, sha(data)).read_bytes() == data
    assert new.server_key.read_bytes() == office.settings.server_key.read_bytes()
    assert new.server_key.stat().st_mode & 0o777 == 0o600


def test_an_encrypted_backup_renewed_adds_what_is_new_and_heals_what_went_bad(office, phone, sender, tmp_path):
    first, second = pictures(phone, sender, 2)
    backup.make(office.settings, tmp_path / "backup", passphrase=PASSPHRASE)
    folder = backup_folder.to_read(tmp_path / "backup", PASSPHRASE)
    good, bad = (folder.path(backup.name_of(sha(data))) for data in (first, second))
    before = good.read_bytes()
    bad.chmod(0o600)
    bad.write_bytes(bad.read_bytes()[:-1] + b"?")
    pictures(phone, sender, 1, width=400)
    made = backup.make(office.settings, tmp_path / "backup", passphrase=PASSPHRASE)
    assert (made.originals, made.is_whole) == (3, True)
    assert good.read_bytes() == before, "what is there and whole is not written again"
    assert restore(tmp_path / "backup", Settings(tmp_path / "new"), passphrase=PASSPHRASE).damaged == []


def test_a_backup_is_of_one_sort_and_opens_to_its_own_passphrase(office, tmp_path):
    with pytest.raises(Refusal, match="fewer than 12 characters"):
        backup.make(office.settings, tmp_path / "short", passphrase="push rods")
    backup.make(office.settings, tmp_path / "plain")
    with pytest.raises(Refusal, match="not encrypted. Choose an empty folder"):
        backup.make(office.settings, tmp_path / "plain", passphrase=PASSPHRASE)
    backup.make(office.settings, tmp_path / "backup", passphrase=PASSPHRASE)
    before = held(tmp_path / "backup")
    for passphrase, words in (("", "Give its passphrase"), ("four bent push rod", "is not the one that")):
        with pytest.raises(Refusal, match=words):
            backup.make(office.settings, tmp_path / "backup", passphrase=passphrase)
        with pytest.raises(Refusal, match=words):
            restore(tmp_path / "backup", Settings(tmp_path / "new"), passphrase=passphrase)
    assert held(tmp_path / "backup") == before
    assert not (tmp_path / "new" / "keys").exists()


def test_guessing_a_passphrase_from_a_stolen_backup_is_dear(quick_guesses):
    assert quick_guesses["n"] >= 2**16 and quick_guesses["r"] >= 8 and quick_guesses["p"] >= 1


def encrypted(data: bytes, name: str = "media/a", key: bytes = b"k" * 32) -> bytes:
    out = io.BytesIO()
    FolderKey(key).write([data[start : start + 300_000] for start in range(0, len(data), 300_000)], out, name)
    return out.getvalue()


def decrypted(data: bytes, name: str = "media/a", key: bytes = b"k" * 32) -> bytes:
    return b"".join(FolderKey(key).read(io.BytesIO(data), name))


def test_a_file_comes_back_whatever_its_length():
    for length in (0, 1, PIECE - 1, PIECE, PIECE + 1, 2 * PIECE, 2 * PIECE + 7):
        data = bytes(number % 251 for number in range(1000)) * (length // 1000 + 1)
        assert decrypted(encrypted(data[:length])) == data[:length], length
    assert encrypted(b"the same") != encrypted(b"the same")


def test_a_file_that_was_cut_moved_or_changed_is_found_out():
    whole = encrypted(b"x" * (2 * PIECE + 7))
    start, step = len(HEAD) + SALT_BYTES, PIECE + TAG_BYTES
    first, second, last = whole[start : start + step], whole[start + step : start + 2 * step], whole[start + 2 * step :]
    cases = {
        "nothing": b"",
        "no piece": whole[:start],
        "its last piece gone": whole[:start] + first + second,
        "its first piece gone": whole[:start] + second + last,
        "pieces swapped": whole[:start] + second + first + last,
        "a piece twice": whole[:start] + first + first + second + last,
        "the end cut off": whole[:-1],
        "something behind it": whole + b"x",
        "one bit": whole[:-1] + bytes([whole[-1] ^ 1]),
        "another salt": HEAD + b"s" * SALT_BYTES + whole[start:],
        "another head": b"w" * len(HEAD) + whole[len(HEAD) :],
    }
    for case, data in cases.items():
        with pytest.raises(Damaged):
            pytest.fail(f"{case}: {len(decrypted(data))} bytes came back")
    with pytest.raises(Damaged):
        decrypted(whole, name="media/b")
    with pytest.raises(Damaged):
        decrypted(whole, key=b"l" * 32)


class Sink(io.RawIOBase):
    """Takes everything and keeps nothing."""

    def write(self, data) -> int:
        return len(data)


def test_a_long_file_needs_the_memory_of_a_few_pieces():
    def pieces() -> Iterator[bytes]:
        for _ in range(24):
            yield bytes(PIECE)

    tracemalloc.start()
    try:
        FolderKey(b"k" * 32).write(pieces(), Sink(), "media/a")
        assert tracemalloc.get_traced_memory()[1] < 6 * PIECE
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("passphrase", ["", PASSPHRASE])
def test_a_damaged_backup_names_job_and_exhibit_of_what_it_lost(office, phone, sender, tmp_path, capsys, passphrase):
    gone, _kept, flipped = pictures(phone, sender, 3)
    never = jpeg(999, 200)
    photograph(phone, phone.open_job("24-119"), "bore/4", never)
    send(phone)
    file = tmp_path / "passphrase"
    file.write_text(f"{passphrase}\nnot this line\n")
    options = ["--passphrase-file", str(file)] if passphrase else []
    there = str(tmp_path / "backup")
    assert cli.main(["backup", there, "--data", str(office.settings.data), *options]) == cli.WELL
    printed = capsys.readouterr().out
    assert f"a phone still has it: job 24-119, exhibit 2 ({sha(never)})" in printed
    assert "It holds the key that signs the log" in printed
    assert ("encrypted. Without the passphrase nobody can restore it" in printed) == bool(passphrase)

    folder = backup_folder.to_read(tmp_path / "backup", passphrase)
    folder.path(backup.name_of(sha(gone))).unlink()
    bad = folder.path(backup.name_of(sha(flipped)))
    bad.chmod(0o600)
    bad.write_bytes(bad.read_bytes()[:-1] + b"?")
    assert cli.main(["restore", there, "--data", str(tmp_path / "new"), *options]) == cli.REFUSED
    printed = capsys.readouterr().out
    assert f"DAMAGED or gone in the backup: job 24-118, exhibit 2 ({sha(gone)})" in printed
    assert f"DAMAGED or gone in the backup: job 24-118, exhibit 4 ({sha(flipped)})" in printed
    assert "exhibit 3" not in printed
    assert f"a phone may still have it: job 24-119, exhibit 2 ({sha(never)})" in printed


@pytest.mark.parametrize("passphrase", ["", PASSPHRASE])
def test_a_backup_with_a_damaged_database_or_key_is_refused_in_words(office, phone, tmp_path, passphrase):
    phone.open_job()
    send(phone)
    backup.make(office.settings, tmp_path / "backup", passphrase=passphrase)
    folder = backup_folder.to_read(tmp_path / "backup", passphrase)
    database = folder.path(backup_folder.DATABASE)
    whole = database.read_bytes()
    database.write_bytes(whole[:5000] + b"\xff" * 4000 + whole[9000:])
    with pytest.raises(Refusal, match="damaged"):
        restore(tmp_path / "backup", Settings(tmp_path / "new"), passphrase=passphrase)
    assert not (tmp_path / "new" / backup_folder.DATABASE).exists()
    database.write_bytes(whole)
    assert restore(tmp_path / "backup", Settings(tmp_path / "new"), passphrase=passphrase).faults == []


def test_an_empty_passphrase_file_makes_no_open_backup(office, tmp_path, capsys):
    file = tmp_path / "passphrase"
    file.write_text("\n")
    order = ["backup", str(tmp_path / "backup"), "--data", str(office.settings.data), "--passphrase-file", str(file)]
    assert cli.main(order) == cli.REFUSED
    assert "has no passphrase in its first line" in capsys.readouterr().err
    assert not (tmp_path / "backup").exists()
