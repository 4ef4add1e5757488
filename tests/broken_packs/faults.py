"""Every fault a pack may have, by its name: how it is made and which check must name it."""

from __future__ import annotations

from tests.broken_packs.make import (
    Fault,
    add_to_picture,
    added,
    changed,
    cut_chain,
    drop_entry,
    dropped,
    entry_of,
    flipped,
    forget_picture,
    leave_out,
    lines_changed,
    older_head,
    other_receipt_time,
    paint_picture,
    replaced,
    rewrite_history,
    same_number_twice,
    swap_entries,
    swap_pictures,
)
from witnessmark.proof import layout

ORDINARY = [
    layout.BAG_INFO, layout.BAGIT, layout.READ_ME, layout.VERIFY_SHEET, layout.VERIFIER, layout.REPORT, layout.PAGE,
    layout.ENTRIES, layout.RECEIPTS, layout.HEAD, layout.HEAD_SIGNATURE, layout.SERVER_KEY, layout.MEDIA, layout.PACK,
    layout.PEOPLE, layout.EARLIER, layout.KNOWN_LOGS, layout.JOB, layout.ORIGINALS, layout.PREVIEWS, layout.MANIFEST,
    layout.TAG_MANIFEST, layout.SEAL,
]  # fmt: skip


def step_of(path: str) -> int:
    """The check that names a bit turned in this file."""
    if path.startswith("data/"):
        return 3
    return 5 if path in (layout.SEAL, layout.TAG_MANIFEST) else 4


def spoken(path: str) -> str:
    return path.rstrip("/").split("/")[-1]


SEALED_FAULTS = [
    *(Fault(f"one bit turned in {spoken(p)}", flipped(p), {step_of(p)}, p) for p in ORDINARY),
    *(Fault(f"{spoken(p)} dropped", dropped(p), {step_of(p)}, p) for p in ORDINARY),
    Fault("a file added to the originals", added(layout.ORIGINALS + "ff.jpg"), {2, 3, 11}, "ff.jpg"),
    Fault("a tag file nobody listed", added("note.txt"), {4}, "note.txt"),
    Fault("an entry file with another name", added(layout.ENTRIES + "7.json", b"{}"), {3, 7}, "7.json"),
    Fault("an absolute path in the manifest", replaced(layout.MANIFEST, b"  data/", b"  /data/"), {3, 4}, "/data/"),
    Fault("a path out of the pack in the manifest", replaced(layout.MANIFEST, b"  data/", b"  ../data/"), {3}, "../"),
    Fault("a path twice in the manifest", lambda f: f.update({layout.MANIFEST: f[layout.MANIFEST] * 2}), {3}, "again"),
    Fault("a line that is no line in the manifest", lambda f: f.update({layout.MANIFEST: b"x\n"}), {3}, "line 1"),
    Fault("another oxum", replaced(layout.BAG_INFO, b"Payload-Oxum: ", b"Payload-Oxum: 9"), {2, 4}, layout.BAG_INFO),
    Fault("another sort", replaced(layout.BAG_INFO, b"Sort: sealed", b"Sort: customer"), {5, 13}, "sort", listed=True),
    Fault("no such sort", replaced(layout.BAG_INFO, b"Sort: sealed", b"Sort: best"), {2, 5}, "best", listed=True),
    Fault("two entries in each other's place", swap_entries, {5, 8, 9}, layout.ENTRIES, listed=True),
    Fault("two pictures in each other's place", swap_pictures, {5, 8, 10}, layout.ENTRIES, listed=True),
    Fault("a reading rewritten", rewrite_history, {5, 8, 10}, layout.ENTRIES, listed=True),
    Fault("a record dropped with its receipt", drop_entry, {5}, layout.SEAL, listed=True),
    Fault(
        "an entry dropped",
        lambda f: f.pop(entry_of(f, "measured")) and None,
        {5, 8, 13},
        "the record of this receipt",
        listed=True,
    ),
    Fault(
        "a receipt dropped", lines_changed(layout.RECEIPTS, lambda r: r.pop() and None), {5, 8}, "receipt", listed=True
    ),
    Fault("a receipt twice", lines_changed(layout.RECEIPTS, lambda r: r.append(r[0])), {5, 8}, "again", listed=True),
    Fault(
        "a receipt with another time", lines_changed(layout.RECEIPTS, other_receipt_time), {5, 10}, "root", listed=True
    ),
    Fault(
        "a receipt with another signature",
        lines_changed(layout.RECEIPTS, lambda r: r[-1].update(signature=r[0]["signature"])),
        {5, 8, 10},
        "signature",
        listed=True,
    ),
    Fault(
        "a receipt without its way to the root",
        lines_changed(layout.RECEIPTS, lambda r: r[-1].update(proof=[])),
        {5, 10},
        "root",
        listed=True,
    ),
    Fault(
        "a receipt with nonsense on its way",
        lines_changed(layout.RECEIPTS, lambda r: r[-1].update(proof=["zz", None])),
        {5, 10},
        layout.RECEIPTS,
        listed=True,
    ),
    Fault("the chain cut", cut_chain, {5, 8, 9, 10}, "before", listed=True),
    Fault("a running number used twice", same_number_twice, {5, 8, 9, 10}, "comes after", listed=True),
    Fault("an older head", older_head, {5, 6, 10}, layout.HEAD, listed=True),
    Fault(
        "another root in the head",
        changed(lambda _: layout.HEAD, lambda v: v.update(root="0" * 64)),
        {5, 6, 10},
        layout.HEAD,
        listed=True,
    ),
    Fault("a head with a space in it", replaced(layout.HEAD, b",", b", "), {5, 6}, "canonical", listed=True),
    Fault("an entry with a space in it", lambda f: spaced(f), {5, 7}, "canonical", listed=True),
    Fault(
        "an entry with a field more",
        changed(lambda f: entry_of(f, "measured"), lambda v: v.update(verdict="within limits")),
        {5, 7},
        "verdict",
        listed=True,
    ),
    Fault(
        "an entry of another workshop",
        changed(lambda f: entry_of(f, "measured"), lambda v: v.update(workshop="elsewhere")),
        {5, 7, 8},
        "elsewhere",
        listed=True,
    ),
    Fault(
        "an entry of another job",
        changed(lambda f: entry_of(f, "measured"), lambda v: v.update(job="elsewhere")),
        {5, 7, 8},
        "elsewhere",
        listed=True,
    ),
    Fault(
        "a limit rewritten",
        changed(lambda f: entry_of(f, "limit_set"), lambda v: v["body"]["limit"].update(high="9.000")),
        {5, 8},
        layout.ENTRIES,
        listed=True,
    ),
    Fault(
        "a limit that is said to be of another job",
        changed(lambda f: entry_of(f, "limit_set"), lambda v: v.update(job="elsewhere")),
        {5, 7, 8},
        "of no job",
        listed=True,
    ),
    Fault(
        "a gauge without its description",
        changed(lambda f: entry_of(f, "gauge_described"), lambda v: v.update(body={})),
        {5, 7, 8},
        "a body with gauge",
        listed=True,
    ),
    Fault(
        "a torque rewritten",
        changed(
            lambda f: entry_of(f, "tightening_sheet_described"),
            lambda v: v["body"]["sheet"]["stages"][0].update(target="26"),
        ),
        {5, 8},
        layout.ENTRIES,
        listed=True,
    ),
    Fault(
        "a wrench that is said to be of another job",
        changed(lambda f: entry_of(f, "torque_tool_described"), lambda v: v.update(job="elsewhere")),
        {5, 7, 8},
        "of no job",
        listed=True,
    ),
    Fault(
        "a tightening sheet without its description",
        changed(lambda f: entry_of(f, "tightening_sheet_described"), lambda v: v.update(body={})),
        {5, 7, 8},
        "a body with sheet",
        listed=True,
    ),
    Fault("another key for a phone", lambda f: other_key(f), {5, 8}, "signature", listed=True),
    Fault(
        "no key for a phone",
        lambda f: f.pop(entry_of(f, "device_enrolled")) and None,
        {5, 8, 13},
        "enrols",
        listed=True,
    ),
    Fault("a picture nobody speaks of", forget_picture, {5, 11}, "a line for", listed=True),
    Fault("a picture missing without a word", leave_out, {5, 11}, "reason", listed=True),
    Fault(
        "a picture of another length",
        lines_changed(layout.MEDIA, lambda r: r[0].update(length=1)),
        {5, 11},
        "bytes",
        listed=True,
    ),
    Fault(
        "another count of entries",
        changed(lambda _: layout.PACK, lambda v: v.update(entries=1)),
        {5, 13},
        "entries",
        listed=True,
    ),
    Fault(
        "a pack that says nothing of itself", lambda f: f.update({layout.PACK: b"{}"}), {5, 13}, "fields", listed=True
    ),
]

CUSTOMER_FAULTS = [
    Fault("one bit turned in a copy", flipped(layout.COPIES), {3, 11}, layout.COPIES),
    Fault("a place put back into a copy", add_to_picture, {5, 12}, "comment", listed=True),
    Fault("a copy painted over", paint_picture, {5, 12}, "scan hash", listed=True),
    Fault(
        "a copy that is no picture any more",
        lambda f: f.update({next(n for n in sorted(f) if n.startswith(layout.COPIES)): b"\xff\xd8\xff"}),
        {5, 11, 12},
        "taken apart",
        listed=True,
    ),
    Fault("a copy dropped", dropped(layout.COPIES), {3, 11}, layout.COPIES),
]


def spaced(files: dict[str, bytes]) -> None:
    name = entry_of(files, "measured")
    files[name] = files[name].replace(b",", b", ", 1)


def other_key(files: dict[str, bytes]) -> None:
    """The server's own key is put in place of a phone's."""
    founded = entry_of(files, "workshop_founded")
    start = files[founded].index(b'"server_key":"') + 14
    key = files[founded][start : files[founded].index(b'"', start)].decode()
    changed(lambda f: entry_of(f, "device_enrolled"), lambda v: v["body"].update(public_key=key))(files)
