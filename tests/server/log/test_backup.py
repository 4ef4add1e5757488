"""A backup counts only when it was checked, and what is put back never passes for the server it replaces."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from threading import Event, Thread

import pytest

from tests.support.media import Sender, jpeg, look, noise, sha
from tests.support.record import photograph, send
from tests.support.workshop import Office
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import make_engine, reading, writing
from witnessmark.log import heads, read
from witnessmark.media import previews, store
from witnessmark.operate import backup, doctor
from witnessmark.operate.backup_folder import BackupFolder
from witnessmark.operate.log_check import check_log
from witnessmark.operate.restore import restore
from witnessmark.pack import shelf
from witnessmark.sync import marks
from witnessmark.trade.ground.errors import Refusal


@pytest.fixture
def sender(office, phone) -> Sender:
    return Sender(office.app, phone.token)


@pytest.fixture
def job(phone) -> str:
    made = phone.open_job()
    send(phone)
    return made


def record(phone, sender, job: str, data: bytes) -> str:
    photograph(phone, job, "bore/3", data)
    send(phone)
    return sender.send(data)


def wrong(settings: Settings) -> list[str]:
    """What the doctor calls wrong; whether the pages are built is not the data folder's business."""
    answer = doctor.examine(settings)
    return [finding.words for finding in answer if finding.state == doctor.WRONG and finding.what != "app"]


def test_a_restored_workshop_has_every_entry_and_every_byte(office, phone, sender, job, tmp_path):
    files = [jpeg(300 + n, 200) for n in range(3)]
    for data in files:
        record(phone, sender, job, data)
    with reading(office.engine) as conn:
        head = heads.latest(conn, office.workshop.id)

    made = backup.make(office.settings, tmp_path / "backup")
    new = Settings(tmp_path / "new", secure_cookies=False)
    back = restore(tmp_path / "backup", new)

    assert (made.log_size, made.root, made.originals, made.missing, made.damaged) == (head.size, head.root, 3, [], [])
    assert (back.log_size, back.originals, back.missing, back.damaged, back.faults) == (head.size, 3, [], [], [])
    for data in files:
        assert store.path_of(new, sha(data)).read_bytes() == data
    assert marks.epoch(new) == back.epoch != marks.epoch(office.settings)
    assert new.server_key.read_bytes() == office.settings.server_key.read_bytes()
    assert new.server_key.stat().st_mode & 0o777 == 0o600
    assert wrong(new) == []


def test_a_restore_writes_into_the_log_that_it_was_one_before_any_server_starts(office, phone, sender, job, tmp_path):
    backup.make(office.settings, tmp_path / "backup")
    with reading(office.engine) as conn:
        before = heads.latest(conn, office.workshop.id)
    new = Settings(tmp_path / "new", secure_cookies=False)
    back = restore(tmp_path / "backup", new)
    engine = make_engine(f"sqlite:///{new.data / 'witnessmark.db'}")
    with reading(engine) as conn:
        head = heads.latest(conn, office.workshop.id)
        (*_, last) = read.whole_log(conn, office.workshop.id)
    engine.dispose()
    assert (head.size, head.epoch) == (before.size + 1, back.epoch)
    body = {"epoch": before.epoch, "size": before.size, "root": before.root, "issued": before.size}
    assert (last.entry["kind"], last.entry["body"]) == ("log_restored", body)


def test_only_a_checked_backup_lets_phones_free_their_originals(office, phone, sender, job, tmp_path):
    sha256 = record(phone, sender, job, jpeg())
    assert phone.get("/api/sync/state")[1]["durable_size"] == 0

    made = backup.make(office.settings, tmp_path / "backup")
    assert phone.get("/api/sync/state")[1]["durable_size"] == made.log_size

    phone.note(job)
    send(phone)
    store.path_of(office.settings, sha256).unlink()
    (tmp_path / "backup" / "media" / sha256[:2] / sha256).unlink()
    holed = backup.make(office.settings, tmp_path / "backup")
    assert (holed.is_whole, holed.damaged) == (False, [sha256])
    assert phone.get("/api/sync/state")[1]["durable_size"] == made.log_size


def test_a_backup_made_while_the_workshop_works_is_whole(office, phone, sender, job, tmp_path):
    """Entries and originals go on arriving; whatever the copied database speaks of is in the backup."""
    stop, failed = Event(), []

    def work():
        try:
            while not stop.is_set():
                record(phone, sender, job, noise(40_000))
        except Exception as error:
            failed.append(error)

    thread = Thread(target=work)
    thread.start()
    try:
        made = [backup.make(office.settings, tmp_path / "backup") for _ in range(4)]
        while made[-1].log_size == made[0].log_size and not failed:
            made.append(backup.make(office.settings, tmp_path / "backup"))
    finally:
        stop.set()
        thread.join()
    new = Settings(tmp_path / "new", secure_cookies=False)
    back = restore(tmp_path / "backup", new)

    assert failed == []
    assert made[0].log_size < made[-1].log_size
    assert (back.log_size, back.originals, back.damaged, back.faults) == (made[-1].log_size, made[-1].originals, [], [])
    assert wrong(new) == []


def test_phones_offer_again_what_the_restored_server_is_too_old_to_know(office, phone, sender, job, tmp_path):
    before = [phone.note(job) for _ in range(5)]
    send(phone)
    backup.make(office.settings, tmp_path / "backup")
    after = [phone.note(job) for _ in range(5)]
    send(phone)
    new = Settings(tmp_path / "new", secure_cookies=False)
    back = restore(tmp_path / "backup", new)
    restored = Office(new, office.workshop, office.manager, create_app(new))
    phone._speak = restored.speak

    state = phone.get("/api/sync/state")[1]
    assert state["epoch"] == back.epoch
    assert state["device"]["last_sequence"] == phone.sequence - 5
    status, answer = phone.push([*before, *after])
    assert [result["result"] for result in answer["results"]] == ["duplicate"] * 5 + ["stored"] * 5
    assert answer["last_sequence"] == phone.sequence
    restored.engine.dispose()


def test_a_write_ahead_log_left_lying_about_does_not_get_into_the_restored_database(office, phone, job, tmp_path):
    """A left-over -wal beside an old database opens without a complaint and with rows that were never in it."""
    made = backup.make(office.settings, tmp_path / "backup")
    for _ in range(20):
        phone.note(job)
    send(phone)
    new = Settings(tmp_path / "new", secure_cookies=False)
    new.data.mkdir()
    for ending in ("-wal", "-shm"):
        shutil.copyfile(office.settings.data / f"witnessmark.db{ending}", new.data / f"witnessmark.db{ending}")
    assert (new.data / "witnessmark.db-wal").stat().st_size > 0

    back = restore(tmp_path / "backup", new)

    assert (back.log_size, back.faults) == (made.log_size, [])
    assert list((tmp_path / "backup").glob("*-wal")) == []


def test_what_a_backup_lost_is_said_and_asked_for_again(office, phone, sender, job, tmp_path):
    kept, lost, flipped = (record(phone, sender, job, jpeg(300 + n, 200)) for n in range(3))
    never = jpeg(444, 200)
    photograph(phone, job, "bore/4", never)
    send(phone)
    backup.make(office.settings, tmp_path / "backup")
    there = store.Folder(tmp_path / "backup" / "media")
    there.path(lost).unlink()
    there.path(flipped).chmod(0o600)
    there.path(flipped).write_bytes(b"x" + there.path(flipped).read_bytes()[1:])

    new = Settings(tmp_path / "new", secure_cookies=False)
    back = restore(tmp_path / "backup", new)

    assert back.damaged == sorted([lost, flipped])
    assert back.missing == [sha(never)]
    engine = make_engine(new.database)
    with reading(engine) as conn:
        assert store.which(conn, [kept, lost, flipped]) == {kept}
    engine.dispose()


def test_previews_are_made_again_after_a_restore(office, phone, sender, job, tmp_path):
    sha256 = record(phone, sender, job, jpeg())
    look(office.settings, office.engine, sha256)
    backup.make(office.settings, tmp_path / "backup")
    new = Settings(tmp_path / "new", secure_cookies=False)
    restore(tmp_path / "backup", new)

    engine = make_engine(new.database)
    assert previews.waiting(engine) == [sha256]
    engine.dispose()


def test_a_second_backup_adds_what_is_new_and_heals_what_went_bad(office, phone, sender, job, tmp_path):
    first = record(phone, sender, job, jpeg())
    backup.make(office.settings, tmp_path / "backup")
    there = store.Folder(tmp_path / "backup" / "media")
    there.path(first).chmod(0o600)
    there.path(first).write_bytes(b"rotten")
    second = record(phone, sender, job, jpeg(333, 222))
    made = backup.make(office.settings, tmp_path / "backup")

    assert (made.originals, made.is_whole) == (2, True)
    for sha256 in (first, second):
        assert store.hash_file(there.path(sha256)) == sha256


def test_a_log_that_was_tampered_with_is_not_backed_up_over_a_good_one(office, phone, job, tmp_path):
    phone.note(job)
    send(phone)
    made = backup.make(office.settings, tmp_path / "backup")
    with closing(sqlite3.connect(office.settings.data / "witnessmark.db")) as raw:
        raw.execute("DROP TRIGGER log_entries_never_update")
        raw.execute("UPDATE log_entries SET received = '2020-01-01T00:00:00.000Z' WHERE position = ?", (made.log_size,))
        raw.commit()

    with pytest.raises(Refusal, match="is not the one that was signed"):
        backup.make(office.settings, tmp_path / "backup")
    assert backup.note_in(BackupFolder(tmp_path / "backup")).log_size == made.log_size
    assert any("not the one that was signed" in words for words in wrong(office.settings))


def test_a_file_that_came_after_the_backup_is_not_the_phones_to_free(office, phone, sender, job, tmp_path):
    """The backup holds the record; its picture was still on its way. The phone frees by one number: not by this one."""
    other = office.phone("Phone in bay 3")
    late = jpeg()
    photograph(phone, job, "bore/3", late)
    send(phone)
    before = phone.get("/api/sync/state")[1]["size"] - 1
    backup.make(office.settings, tmp_path / "backup")
    sender.send(late)
    assert phone.get("/api/sync/state")[1]["durable_size"] == before
    assert other.get("/api/sync/state")[1]["durable_size"] == before + 1

    backup.make(office.settings, tmp_path / "backup")
    assert phone.get("/api/sync/state")[1]["durable_size"] == before + 1


def test_a_pack_the_customer_holds_comes_back_with_the_same_bytes(office, job, tmp_path):
    pack = b"PK the pack that was given out"
    with writing(office.engine) as conn:
        request_id = shelf.request(conn, office.workshop.id, job, "sealed", office.manager.id)
        shelf.note_in(conn, request_id.id, state="ready", name="24-118.zip", size=len(pack), sha256=sha(pack))
    kept = shelf.folder_of(office.settings, request_id.id) / "24-118.zip"
    kept.parent.mkdir(parents=True)
    kept.write_bytes(pack)
    (kept.parent / "half made.zip").write_bytes(b"PK")
    backup.make(office.settings, tmp_path / "backup")
    new = Settings(tmp_path / "new")
    restore(tmp_path / "backup", new)
    assert (new.packs / request_id.id / "24-118.zip").read_bytes() == pack
    assert not (new.packs / request_id.id / "half made.zip").exists()


def test_a_restore_that_was_cut_off_is_no_workshop_and_can_be_begun_again(office, phone, sender, job, tmp_path):
    files = [record(phone, sender, job, jpeg(width)) for width in (300, 310, 320)]
    backup.make(office.settings, tmp_path / "backup")
    new = Settings(tmp_path / "new", secure_cookies=False)

    def cut(done, _of):
        if done == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        restore(tmp_path / "backup", new, cut)
    assert not (new.data / backup.DATABASE).exists()
    back = restore(tmp_path / "backup", new)
    assert (back.originals, back.damaged, back.faults) == (3, [], [])
    assert marks.epoch(new) == back.epoch != marks.epoch(office.settings)
    assert [store.path_of(new, file).is_file() for file in files] == [True] * 3
    assert wrong(new) == []


def test_a_good_file_in_the_folder_is_not_given_up_for_a_bad_one_in_the_backup(office, phone, sender, job, tmp_path):
    sha256 = record(phone, sender, job, jpeg())
    backup.make(office.settings, tmp_path / "backup")
    (tmp_path / "backup" / "media" / sha256[:2] / sha256).unlink()
    new = Settings(tmp_path / "new")
    path = store.path_of(new, sha256)
    path.parent.mkdir(parents=True)
    shutil.copyfile(store.path_of(office.settings, sha256), path)
    assert restore(tmp_path / "backup", new).damaged == []


def test_a_copy_that_a_crash_cut_short_is_thrown_away_and_made_anew(office, phone, sender, job, tmp_path):
    sha256 = record(phone, sender, job, jpeg())
    left = tmp_path / "backup" / "media" / sha256[:2] / f"{sha256}.new"
    left.parent.mkdir(parents=True)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.write_bytes(b"what it was linked to")
    left.hardlink_to(elsewhere)
    assert backup.make(office.settings, tmp_path / "backup").is_whole
    assert elsewhere.read_bytes() == b"what it was linked to"


def test_a_log_rewritten_together_with_its_roots_is_still_not_the_one_that_was_signed(office, phone, job):
    """Whoever can write to the file can work out every hash again; only what the server signed stays as it was."""
    phone.note(job, "0.02 mm")
    send(phone)
    with closing(sqlite3.connect(office.settings.data / "witnessmark.db")) as raw:
        for table in ("log_entries", "log_heads"):
            raw.execute(f"DROP TRIGGER {table}_never_update")
        position, data = raw.execute("SELECT position, bytes FROM log_entries ORDER BY position DESC").fetchone()
        forged = data.replace(b"0.02", b"0.05")
        order = "UPDATE log_entries SET bytes = ?, hash = ? WHERE position = ?"
        raw.execute(order, (forged, sha(forged), position))
        raw.commit()
    with reading(office.engine) as conn:
        root = check_log(conn, office.workshop).root
    with closing(sqlite3.connect(office.settings.data / "witnessmark.db")) as raw:
        raw.execute("UPDATE log_heads SET root = ? WHERE size = ?", (root, position))
        raw.commit()
    assert any("is not the one that was signed" in words for words in wrong(office.settings))


@pytest.mark.parametrize("place", [".", "media/.."])
def test_a_backup_into_the_data_folder_is_refused(office, place):
    with pytest.raises(Refusal, match="Choose another disk"):
        backup.make(office.settings, office.settings.data / place)


def test_a_restore_over_a_living_workshop_is_refused(office, job, tmp_path):
    backup.make(office.settings, tmp_path / "backup")

    with pytest.raises(Refusal, match="already holds a workshop"):
        restore(tmp_path / "backup", office.settings)


def test_a_backup_that_was_not_finished_is_none(office, job, tmp_path):
    backup.make(office.settings, tmp_path / "backup")
    (tmp_path / "backup" / backup.REPORT).unlink()

    with pytest.raises(Refusal, match="no finished backup"):
        restore(tmp_path / "backup", Settings(tmp_path / "new"))


def test_the_doctor_names_what_is_wrong(office, phone, sender, job):
    gone, flipped = record(phone, sender, job, jpeg()), record(phone, sender, job, jpeg(333, 200))
    photograph(phone, job, "bore/2", jpeg(444, 200))
    send(phone)
    assert wrong(office.settings) == []
    store.path_of(office.settings, gone).unlink()
    path = store.path_of(office.settings, flipped)
    path.chmod(0o600)
    path.write_bytes(b"?" + path.read_bytes()[1:])
    office.settings.server_key.chmod(0o644)
    marks.note_issued(office.settings, 10_000)

    answer = doctor.examine(office.settings)
    words = {finding.what: finding.words for finding in answer if finding.state == doctor.WRONG}

    assert "2 originals are damaged or gone" in words["originals"]
    assert "promised 10,000 records" in words["log"]
    assert "can read" in words["keys"]
    assert any(" not arrived" in finding.words for finding in answer if finding.state == doctor.LOOK)
    assert any("no checked backup" in finding.words for finding in answer if finding.state == doctor.LOOK)


def test_the_doctor_says_so_when_the_folder_is_empty(tmp_path):
    assert "holds no workshop" in wrong(Settings(tmp_path))[0]


def test_the_doctor_tells_of_records_that_fit_no_chain_and_whose_they_are(office, phone, job):
    phone.note(job, previous="ab" * 32)
    phone.push()
    answer = {finding.what: finding for finding in doctor.examine(office.settings)}
    assert answer["strays"].state == doctor.LOOK
    assert "1 from A, Phone in bay 2 (fork)" in answer["strays"].words


def test_the_doctor_does_not_fall_ill_with_the_patient(office, job, tmp_path):
    office.settings.server_key.unlink()
    assert any("is gone or is not a key" in words for words in wrong(office.settings))
    with (office.settings.data / "witnessmark.db").open("r+b") as file:
        file.write(b"a disk that forgot what it held" * 100)
    assert any("database" in words and "estore the last backup" in words for words in wrong(office.settings))
