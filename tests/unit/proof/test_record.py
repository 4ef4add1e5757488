"""How the verifier reads the chain of a device: gaps are told, breaks are faults, refused entries keep it whole."""

from __future__ import annotations

from witnessmark.proof.entries import NO_ENTRY_BEFORE
from witnessmark.proof.faults import Report
from witnessmark.proof.record import Entry, check_chains, check_signatures

PHONE, DESK = "phone", "desk"


def an_entry(position: int, sequence: int, name: str, previous: str, device: str = PHONE, **value) -> Entry:
    value = {"device": device, "sequence": sequence, "previous": previous, "kind": "note_made", "body": {}} | value
    return Entry(position, f"entry {position}", b"", name, value)


def refusal(position: int, sequence: int, entry_hash: str) -> Entry:
    body = {"device": PHONE, "sequence": sequence, "entry_hash": entry_hash}
    return an_entry(position, 1, f"d{position}", NO_ENTRY_BEFORE, DESK, kind="entry_refused", body=body)


def chain(*entries: Entry) -> Report:
    report = Report()
    check_chains(list(entries), report)
    return report


def test_a_whole_chain_is_well_and_nothing_lies_between():
    report = chain(an_entry(1, 1, "a", NO_ENTRY_BEFORE), an_entry(2, 2, "b", "a"), an_entry(3, 3, "c", "b"))

    assert report.well and report.facts["not_shown"] == {} and report.remarks == []


def test_numbers_that_are_not_shown_are_listed_and_no_more_is_said_of_them():
    report = chain(an_entry(5, 4, "d", "c"), an_entry(9, 6, "f", "e"))

    assert report.well and report.facts["not_shown"] == {PHONE: [(1, 3), (5, 5)]}
    assert report.remarks == [
        "phone: not in this pack, by running number: 1 to 3, 5. Nothing here tells which job they belong to."
    ]


def test_a_device_is_called_as_the_workshop_enrolled_it():
    body = {"device": PHONE, "letter": "C", "name": "by the lathe"}
    enrolled = an_entry(1, 1, "d1", NO_ENTRY_BEFORE, DESK, kind="device_enrolled", body=body)

    assert (
        chain(enrolled, an_entry(5, 2, "b", "a"))
        .remarks[0]
        .startswith("Phone C, by the lathe: not in this pack, by running number: 1.")
    )


def test_of_very_many_gaps_the_first_are_listed_and_the_others_counted():
    report = chain(*(an_entry(number, 2 * number, f"h{number}", "x") for number in range(1, 61)))

    assert report.remarks[0].endswith(", 79, and 20 more gaps. Nothing here tells which job they belong to.")
    assert len(report.facts["not_shown"][PHONE]) == 60


def test_a_chain_that_does_not_hold_is_a_fault():
    assert not chain(an_entry(1, 1, "a", NO_ENTRY_BEFORE), an_entry(2, 2, "b", "x")).well
    assert not chain(an_entry(1, 2, "b", "a"), an_entry(2, 1, "a", NO_ENTRY_BEFORE)).well


def test_an_entry_the_workshop_refused_keeps_its_place_in_the_chain():
    first, third = an_entry(1, 1, "a", NO_ENTRY_BEFORE), an_entry(3, 3, "c", "b")

    assert chain(first, refusal(2, 2, "b"), third).well
    assert not chain(first, refusal(2, 2, "another"), third).well


def test_an_entry_the_phone_lost_is_a_gap_like_any_other():
    report = chain(an_entry(1, 1, "a", NO_ENTRY_BEFORE), refusal(2, 2, NO_ENTRY_BEFORE), an_entry(3, 3, "c", "b"))

    assert report.well and report.facts["not_shown"] == {PHONE: [(2, 2)]}


def test_a_record_received_after_its_phone_was_blocked_is_remarked_on():
    report = Report()
    out = an_entry(1, 1, "a", NO_ENTRY_BEFORE, DESK, kind="device_revoked", body={"device": PHONE})
    check_signatures([out, an_entry(2, 2, "b", "x")], {}, None, report)

    assert report.remarks == ["entry 2 was received after the workshop had blocked the device that made it."]
