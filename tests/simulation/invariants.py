"""What must hold when the faults have stopped and all has settled. Each check raises Broken with what it saw."""

from __future__ import annotations

from collections import Counter

from sqlalchemy import select, text

from tests.simulation.bed import Bed, Broken, Phone
from witnessmark.db import reading, writing
from witnessmark.log import heads, read
from witnessmark.log import tables as log_tables
from witnessmark.log.proofs import Tree
from witnessmark.media import store
from witnessmark.operate.log_check import check_log
from witnessmark.people import devices
from witnessmark.projections import apply as projections
from witnessmark.projections import tables
from witnessmark.proof.heads import read as read_head
from witnessmark.proof.merkle import verify_consistency
from witnessmark.proof.canonical import sha256_hex

FIRST = "0" * 64


def check(bed: Bed) -> None:
    """All of them."""
    held = {phone.name: bed.held(phone) for phone in bed.phones.values()}
    the_log_is_whole(bed)
    chains_have_no_hole(bed)
    heads_only_grew(bed)
    what_was_acknowledged_is_there_once(bed, held)
    for phone in bed.phones.values():
        what_was_called_saved_is_kept(bed, phone, held[phone.name])
        the_phone_agrees(bed, phone, held[phone.name])
    projections_follow_from_the_log(bed)


def the_log_is_whole(bed: Bed) -> None:
    with reading(bed.server.engine) as conn:
        if wrong := check_log(conn, bed.server.made.workshop).faults:
            raise Broken(f"the log: {wrong}")
        strays = read.stray_counts(conn, bed.server.made.workshop.id)
    if strays:
        raise Broken(f"bytes came that could not be chained: {strays}")


def chains_have_no_hole(bed: Bed) -> None:
    """Every device's numbers from 1 on, logged or refused, each naming the hash before it."""
    workshop = bed.server.made.workshop.id
    with reading(bed.server.engine) as conn:
        r = log_tables.refused.c
        for device in devices.all_of(conn, workshop):
            links = {row.entry["sequence"]: (row.hash, row.entry["previous"]) for row in read.device_chain(conn, workshop, device.id)}
            for row in conn.execute(select(r.sequence, r.hash, r.bytes).where(r.device == device.id)):
                if row.sequence in links:
                    raise Broken(f"number {row.sequence} of {device.name} is logged and refused")
                links[row.sequence] = (row.hash, None)
            before = FIRST
            for number in range(1, len(links) + 1):
                if number not in links:
                    raise Broken(f"number {number} of {device.name} is missing, of {sorted(links)}")
                entry_hash, previous = links[number]
                if previous not in (None, before):
                    raise Broken(f"number {number} of {device.name} does not follow the one before")
                before = entry_hash


def heads_only_grew(bed: Bed) -> None:
    """Every head a phone saw is the beginning of the log now; after a restore, as far as the backup reached."""
    workshop = bed.server.made.workshop.id
    with reading(bed.server.engine) as conn:
        tree, now = Tree(conn, workshop), heads.latest(conn, workshop)
        least = min(bed.cuts, default=None)
        for epoch, size, root in sorted(bed.heads):
            if epoch != now.epoch and least is not None and size > least:
                continue
            if size > now.size:
                raise Broken(f"a phone saw a head of {size} entries, the log has {now.size}")
            proof = [bytes.fromhex(node) for node in tree.consistency(size, now.size)]
            if not verify_consistency(size, now.size, bytes.fromhex(root), bytes.fromhex(now.root), proof):
                raise Broken(f"a phone saw a head of {size} entries that is not the beginning of the log")
        if read_head(now.bytes).root.hex() != now.root:
            raise Broken("the newest head is signed over another root")


def what_was_acknowledged_is_there_once(bed: Bed, held: dict) -> None:
    counted = Counter(bed.log_hashes())
    if twice := [one for one, count in counted.items() if count > 1]:
        raise Broken(f"there twice: {twice}")
    # What a restore took away comes back from the phones that have it; nobody else can bring it.
    able = {row["hash"] for phone in bed.phones.values() if can_send(bed, phone) for row in held[phone.name]["entries"] if row["mine"]}
    for one in bed.receipts - set(counted):
        if one not in bed.cut or one in able:
            raise Broken(f"acknowledged and not there: {one}")
    for sha256 in bed.here:
        if sha256 not in whole_originals(bed) and not may_be_lost(bed, sha256, held):
            raise Broken(f"original acknowledged and not there: {sha256[:12]}")


def what_was_called_saved_is_kept(bed: Bed, phone: Phone, held: dict) -> None:
    rows = {row["id"]: row for row in held["entries"]}
    outbox = {row["key"] for row in held["outbox"]}
    shelf = {row["key"]: row for row in held["shelf"]}
    logged, originals = set(bed.log_hashes()), whole_originals(bed)
    with reading(bed.server.engine) as conn:
        refused = set(conn.scalars(select(log_tables.refused.c.hash)))
    kept = {facts["sha256"] for facts in held["originals"] if facts["whole"]}
    for saved in phone.saved:
        row = rows.get(saved.id)
        if row is None or row["hash"] != saved.hash or not row["whole"]:
            raise Broken(f"{phone.name} called number {saved.sequence} saved and does not have it")
        key = f"entry:{saved.id}"
        if can_send(bed, phone):
            if key in outbox:
                raise Broken(f"{phone.name} still waits with number {saved.sequence}: {held['why']}")
            if saved.hash not in logged and not (saved.hash in refused and shelf.get(key, {}).get("settled")):
                raise Broken(f"number {saved.sequence} of {phone.name} is nowhere on the server, {shelf.get(key)}")
        elif saved.hash not in logged | refused and key not in outbox | set(shelf):
            raise Broken(f"number {saved.sequence} of {phone.name} is nowhere")
        for sha256 in saved.media:
            if can_send(bed, phone) and saved.hash in logged and sha256 not in originals and not may_be_lost(bed, sha256, {phone.name: held}):
                raise Broken(f"an original of number {saved.sequence} of {phone.name} never came: {held['why']}")
            if sha256 not in originals and sha256 not in kept and not may_be_lost(bed, sha256, {phone.name: held}):
                raise Broken(f"an original of number {saved.sequence} of {phone.name} is nowhere")


def the_phone_agrees(bed: Bed, phone: Phone, held: dict) -> None:
    """Receipts, chain, jobs and words of a phone fit what the server has."""
    if not can_send(bed, phone):
        return
    workshop = bed.server.made.workshop.id
    with reading(bed.server.engine) as conn:
        logged = {row.id: row for row in read.whole_log(conn, workshop)}
        end = read.chain_end(conn, workshop, held["phone"]["device"]["id"])
    chain = held["chain"] or {"sequence": 0, "hash": FIRST}
    if (chain["sequence"], chain["hash"]) != (end.sequence, end.hash or chain["hash"]):
        raise Broken(f"{phone.name} ends its chain at {chain['sequence']}, the server at {end.sequence}")
    for row in held["entries"]:
        there = logged.get(row["id"])
        if row["mine"] and row["position"] is not None and (there is None or there.position != row["position"] or there.hash != row["hash"]):
            raise Broken(f"{phone.name} believes its number {row['sequence']} to be at {row['position']}")
    chosen = {job["id"] for job in held["jobs"] if job["chosen"]}
    here = {row["id"] for row in held["entries"]}
    missing = [row.id for row in logged.values() if (row.job in chosen or row.job is None) and row.id not in here]
    if missing:
        raise Broken(f"{phone.name} lacks {len(missing)} records of its jobs: {held['why']}, {held['alarm']}")
    words = held["alarm"], held["why"]
    lost = [facts for facts in held["originals"] if not facts["chunks"] and facts["sha256"] not in whole_originals(bed)]
    foreign = [row for row in held["entries"] if row["hash"] in bed.cut and row["id"] not in logged]
    if any(words) and not (bed.cuts and (lost or foreign)):
        raise Broken(f"{phone.name} says without reason: {words}")
    if lost and not held["alarm"]:
        raise Broken(f"{phone.name} gave up an original that is lost, and says nothing")
    settled = {row["id"] for row in held["shelf"] if row["sort"] == "entry" and row["settled"]}
    if odd := [row for row in held["shelf"] if row["id"] not in settled or row["code"] != "unknown_place"]:
        raise Broken(f"{phone.name} has on its shelf: {odd}")


def projections_follow_from_the_log(bed: Bed) -> None:
    before = everything_shown(bed)
    with writing(bed.server.engine) as conn:
        projections.rebuild(conn)
    if everything_shown(bed) != before:
        raise Broken("a replay of the log makes other rows")


def everything_shown(bed: Bed) -> dict[str, list]:
    names = [table.name for projection in projections.PROJECTIONS.values() for table in projection.TABLES]
    with reading(bed.server.engine) as conn:
        return {
            name: [tuple(row) for row in conn.execute(text(f"SELECT rowid, * FROM {name} ORDER BY rowid"))]
            if name.endswith("words")
            else sorted(map(repr, conn.execute(text(f"SELECT * FROM {name}"))))
            for name in [*names, tables.version.name, tables.workshop_number.name]
        }


def can_send(bed: Bed, phone: Phone) -> bool:
    """Whether the server knows this phone and has not blocked it."""
    device = (phone.seen or {}).get("device", "")
    return bool(device) and bed.is_known(device) and not bed.is_blocked(device)


def whole_originals(bed: Bed) -> set[str]:
    """Originals in the register whose bytes are what their name says."""
    with reading(bed.server.engine) as conn:
        registered = set(conn.execute(text("SELECT sha256 FROM media")).scalars())
    shelf = store.folder(bed.server.settings)
    return {one for one in registered if shelf.has(one) and sha256_hex(shelf.path(one).read_bytes()) == one}


def may_be_lost(bed: Bed, sha256: str, held: dict) -> bool:
    """An original that a restore took away, when no phone that can send has its bytes any more."""
    if not bed.cuts:
        return False
    return not any(
        facts["sha256"] == sha256 and facts["whole"]
        for name, one in held.items()
        if can_send(bed, bed.phones[name])
        for facts in one["originals"]
    )
