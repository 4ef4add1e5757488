"""A log that somebody with the server's key has rewritten: the doctor works out what the devices' keys still tell."""

from __future__ import annotations

import pytest

from tests.support.record import send
from tests.support.rewriting import rewrite
from witnessmark.db import clock_set_back, now, reading
from witnessmark.log import heads, read
from witnessmark.log.rows import Row
from witnessmark.operate import doctor
from witnessmark.operate.device_chains import DeviceChains
from witnessmark.operate.log_check import check_log


@pytest.fixture
def written(office):
    """A job with five notes of one phone, and their rows."""
    phone = office.phone()
    job = phone.open_job()
    for text in ("a", "b", "c", "d", "e"):
        phone.note(job, text)
    send(phone)
    with reading(office.engine) as conn:
        return list(read.whole_log(conn, office.workshop.id))


def faults(office) -> list[str]:
    with reading(office.engine) as conn:
        return check_log(conn, office.workshop, DeviceChains()).faults


def test_a_log_as_it_was_received_is_well(office, written):
    assert faults(office) == []
    rewrite(office, written)
    assert faults(office) == []


def test_a_record_taken_out_and_signed_over_is_gone_from_its_phone(office, written):
    rewrite(office, [row for row in written if row.entry["body"].get("text") != "c"])

    with reading(office.engine) as conn:
        assert check_log(conn, office.workshop).faults == [], "the tree alone shows nothing"
    assert faults(office) == [
        "Phone A, Phone in bay 2: these of its records are gone from the log, by running number: 4."
    ]
    words = [finding.words for finding in doctor.examine(office.settings) if finding.state == doctor.WRONG]
    assert any("these of its records are gone from the log" in sentence for sentence in words)


def test_a_record_written_by_another_hand_is_not_signed_by_its_phone(office, written):
    forged = list(written)
    at = next(number for number, row in enumerate(forged) if row.entry["body"].get("text") == "c")
    data = forged[at].bytes.replace(b'"text":"c"', b'"text":"x"')
    forged[at] = Row(office.workshop.id, at + 1, forged[at].hash, forged[at].signature, forged[at].received, 0, data)
    rewrite(office, forged)

    assert f"Record {at + 1} is not signed by the device that is said to have made it." in faults(office)


def test_two_records_in_each_others_place_do_not_follow(office, written):
    swapped = [*written[:-2], written[-1], written[-2]]
    rewrite(office, swapped)

    assert any("does not follow the last one of its device" in fault for fault in faults(office))


def test_no_stamp_runs_backwards_when_the_servers_clock_was_set_back(office, written):
    phone = office.phone("second phone")
    with clock_set_back(3600):
        job = phone.open_job("26-777")
        send(phone)
    with reading(office.engine) as conn:
        rows = list(read.whole_log(conn, office.workshop.id))
        head = heads.latest(conn, office.workshop.id)
    stamps = [row.received for row in rows]

    assert rows[-1].entry["job"] == job
    assert stamps == sorted(stamps)
    assert head.time == stamps[-1]
    assert faults(office) == []


def test_the_doctor_says_when_the_clock_is_behind_the_record(office, written):
    with clock_set_back(3600):
        words = [finding.words for finding in doctor.examine(office.settings) if finding.state == doctor.LOOK]
        assert any("Until it has passed that time, every record is stamped" in sentence for sentence in words), now()
    words = [finding.words for finding in doctor.examine(office.settings)]
    assert not any("Until it has passed that time" in sentence for sentence in words)
