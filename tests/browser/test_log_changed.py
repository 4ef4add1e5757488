"""A server's log that is not what it was: the phone says so on every screen until it is noted in the record."""

from __future__ import annotations

import io
import json

import pytest
import zxingcpp  # an outside judge of the codes
from PIL import Image

from tests.support.bay import Bay
from tests.support.office import overflow, unfit
from tests.support.rewriting import rewrite
from tests.support.waiting import expect
from witnessmark.db import reading, writing
from witnessmark.log import read
from witnessmark.proof import heads, keys, merkle
from witnessmark.sync import desk, marks
from witnessmark.sync import office as server_office


def read_qr(picture: bytes) -> str:
    (code,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)))
    return code.text


pytestmark = pytest.mark.browser


@pytest.mark.new_phone
def test_a_log_put_back_is_said_on_every_screen_until_both_fingerprints_are_in_the_record(bay: Bay, tmp_path):
    page, office = bay.page, bay.office
    job = bay.open_job("26-140")
    bay.note(job, "Main bearing 3 wiped.")
    bay.note(job, "Thrust washer in backwards.")
    bay.until_all_sent()
    bay.signal(there=False)
    with reading(office.engine) as conn:
        rows = list(read.whole_log(conn, office.workshop.id))
    marks.renew_epoch(office.settings)
    rewrite(office, [*rows[:-2], rows[-1]])
    with writing(office.engine) as conn:
        desk.note_restored(conn, office.settings, len(rows))

    bay.signal(there=True)
    page.evaluate("dispatchEvent(new Event('online'))")
    strip = page.get_by_role("alert").filter(has_text="Something is wrong with the server’s log.")
    for screen in ("#/jobs", f"#/job/{job}", f"#/job/{job}/note", f"#/job/{job}/places"):
        page.goto(f"{bay.url}/bay/{screen}")
        expect(strip).to_be_visible()
        assert overflow(page) <= 0
        acts = page.get_by_role("navigation", name="Actions").bounding_box()
        assert acts["y"] + acts["height"] <= page.viewport_size["height"] + 1, f"the acts of {screen} are out of reach"
    assert unfit(page) == []
    strip.get_by_role("button", name="Look at it").click()
    alarm = page.get_by_role("alert").filter(has_text="The server’s log was put back")
    number = rows[-2].entry["sequence"]
    expect(alarm).to_contain_text(f"Record {number} of this phone is no longer in the log")
    expect(alarm).to_contain_text("the owner, the insurer, or whoever holds a pack")
    assert unfit(page) == [] and overflow(page) <= 0

    page.get_by_text("Show both as codes for another phone’s camera").click()
    for name in ("before", "after"):
        code = page.get_by_role("img", name=f"The log fingerprint {name}, with the server’s signature")
        expect(code).to_be_visible()
        code.scroll_into_view_if_needed()
        seen, signature = read_qr(code.screenshot()).split("\n")
        heads.check(seen.encode(), signature, keys.unbase64(server_office.key(office.settings).public_key))
    assert unfit(page) == [] and overflow(page) <= 0

    with page.expect_download() as download:
        page.get_by_role("button", name="Save both log fingerprints").click()
    saved = json.loads(download.value.path().read_text())
    key = keys.unbase64(server_office.key(office.settings).public_key)
    before, after = (heads.check(saved[name].encode(), saved[f"{name}_signature"], key) for name in ("before", "after"))
    assert (before.size, after.size) == (len(rows), len(rows)) and before.root != after.root

    (lost,) = saved.pop("records")
    assert json.loads(lost["bytes"])["body"]["text"] == "Main bearing 3 wiped."
    receipt = lost["receipt"]
    head = heads.check(receipt["head"]["bytes"].encode(), receipt["head"]["signature"], key)
    leaf, path = merkle.leaf_hash(receipt["stamp"].encode()), [bytes.fromhex(node) for node in receipt["path"]]
    assert merkle.verify_inclusion(leaf, receipt["position"] - 1, head.size, path, head.root)

    page.get_by_role("button", name="Note it in the record").click()
    expect(page.get_by_text("Saved. It is sent with the other records.")).to_be_visible()
    bay.until_all_sent()
    expect(alarm).to_have_count(0)
    with reading(office.engine) as conn:
        entries = [row.entry for row in read.whole_log(conn, office.workshop.id)]
    (noted,) = [entry for entry in entries if entry["kind"] == "log_difference_noted"]
    assert noted["body"] == saved and saved["gone"] == str(number)
    texts = [entry["body"].get("text") for entry in entries]
    assert texts.count("Thrust washer in backwards.") == 1 and "Main bearing 3 wiped." not in texts
