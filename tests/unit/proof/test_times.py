"""The times in a pack: stamps run forwards up to the making, and claims that run backwards are remarked on.

The form of a time is RFC 3339, section 5.6.
"""

from __future__ import annotations

import pytest

from witnessmark.proof import layout
from witnessmark.proof.faults import Report
from witnessmark.proof.heads import Head
from witnessmark.proof.record import Entry
from witnessmark.proof.times import check_times, claimed, moment

AT = "2026-05-14T09:42:{:02}.000Z"
HEAD = Head("e", b"", "s", 9, AT.format(30), "w")
PACK = {"made": AT.format(40)}


def an_entry(position: int, claim: str = "2026-05-14T11:42:00.000+02:00", device: str = "phone") -> Entry:
    return Entry(position, f"entry {position}", b"", "", {"device": device, "claimed": claim})


def checked(*received, head=HEAD, pack=PACK, entries=None, offset=0) -> Report:
    report = Report()
    found = entries or [an_entry(position) for position in range(1, len(received) + 1)]
    receipts = {position: {"received": time, "offset_ms": offset} for position, time in enumerate(received, 1)}
    check_times(found, receipts, head, pack, report)
    return report


def test_times_that_run_forwards_are_well():
    report = checked(AT.format(1), AT.format(1), AT.format(20), AT.format(30))
    assert report.well and report.remarks == []


def test_a_record_received_before_the_one_before_it_is_a_fault():
    (fault,) = checked(AT.format(2), AT.format(1), AT.format(1)).faults
    assert (fault.step, fault.path, fault.found) == (10, f"{layout.RECEIPTS} position 2", AT.format(1))


def test_no_record_is_received_after_the_fingerprint_and_no_fingerprint_signed_after_the_making():
    assert [fault.path for fault in checked(AT.format(31)).faults] == [layout.HEAD]
    assert [fault.path for fault in checked(AT.format(1), pack={"made": AT.format(29)}).faults] == [layout.PACK]


@pytest.mark.parametrize(
    "time",
    ["", None, 7, "2026-05-14", "2026-05-14T09:42:00", "2026-05-14T09:42:00+02:00", "2026-02-30T09:42:00.000Z", [],
     "2026-05-14T25:00:00.000Z", "2026-05-14t09:42:00z"],
)  # fmt: skip
def test_what_is_no_stamp_is_a_fault(time):
    assert moment(time) is None
    (fault,) = checked(time).faults
    assert fault.expected == "a time in UTC by RFC 3339"


def test_a_difference_of_clocks_is_a_number_or_none():
    assert checked(AT.format(1), offset=None).well
    assert not checked(AT.format(1), offset="1").well and not checked(AT.format(1), offset=True).well


def test_times_of_a_pack_and_a_head_that_are_none_are_faults():
    report = checked(AT.format(1), head=HEAD._replace(time="noon"), pack={"made": 3})
    assert [fault.step for fault in report.faults] == [6, 13]


def test_claims_that_run_backwards_on_one_device_are_remarked_on():
    claims = ["2026-05-14T11:42:00+02:00", "2026-05-14T09:41:00.500Z", "2026-05-14T12:00:00+02:00"]
    entries = [an_entry(number, claim) for number, claim in enumerate(claims, 1)]
    entries.append(an_entry(4, "2026-05-13T12:00:00Z", device="another"))
    report = checked(*[AT.format(1)] * 4, entries=entries)

    assert report.well
    assert report.remarks == [
        "By the clock of their device, the records at these positions claim a time before the record of the same "
        "device before them: 2."
    ]


def test_a_claim_that_is_no_time_is_a_fault():
    assert claimed("yesterday") is None
    assert [fault.step for fault in checked(AT.format(1), entries=[an_entry(1, "yesterday")]).faults] == [7]
