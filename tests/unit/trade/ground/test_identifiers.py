"""Identifiers are made as RFC 9562 asks and sort by the time of making."""

from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.identifiers import uuid7, uuid7_from


def test_the_identifier_of_rfc_9562_appendix_a6_comes_out():
    made = uuid7_from(0x017F22E279B0, 0xCC3 << 62 | 0x18C4DC0C0C07398F)
    assert made == "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"


def test_new_identifiers_are_entry_identifiers_and_never_repeat():
    made = [uuid7() for _ in range(500)]
    assert len(set(made)) == 500
    assert [shapes.uuid7(made_id) for made_id in made] == [None] * 500
    times = [made_id.replace("-", "")[:12] for made_id in made]
    assert times == sorted(times)
