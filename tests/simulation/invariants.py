"""What must hold when the faults have stopped and all has settled. Each check raises Broken with what it saw."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from sqlalchemy import select, text

from tests.simulation.bed import Bed, Broken, Phone, Saved
from witnessmark.db import reading, writing
from witnessmark.log import heads, read
from witnessmark.log import tables as log_tables
from witnessmark.log.proofs import Tree
from witnessmark.log.rows import Row
from witnessmark.media import store
from witnessmark.operate.log_check import check_log
from witnessmark.people import devices
from witnessmark.projections import apply as projections
from witnessmark.projections import tables
from witnessmark.proof.canonical import parse, sha256_hex
from witnessmark.proof.heads import read as read_head
from witnessmark.proof.merkle import verify_consistency
from witnessmark.sync import marks

FIRST = "0" * 64


@dataclass
class Facts:
    """What the server has and what each phone holds, read once. `able`: phones that the server knows and lets send."""

    bed: Bed
    held: dict[str, dict]
    able: set[str]
    logged: dict[str, Row]  # by hash
    twice: list[str]
    refused: set[str]
    originals: set[str]  # in the register, with bytes that are what their name says
    at_hand: set[str]  # originals whose bytes are on a phone that may send


def check(bed: Bed) -> None:
    """All of them."""
    facts = _facts(bed)
    the_log_is_whole(bed)
    chains_have_no_hole(bed)
    numbers_within_a_job_have_no_hole(bed)
    heads_only_grew(bed)
    what_was_acknowledged_is_there_once(facts)
    for phone in bed.phones.values():
        what_was_called_saved_is_kept(facts, phone)
        if phone.name in facts.able:
            the_phone_agrees(facts, phone)
        elif not bed.is_blocked(phone.seen["device"]):
            raise Broken(f"{phone.name} cannot join: {bed.trace[-1]}")
    if bed.seed % 4 == 0:  # it takes a fifth of a run
        projections_follow_from_the_log(bed)


def _facts(bed: Bed) -> Facts:
    held = {phone.name: bed.held(phone) for phone in bed.phones.values()}
    workshop = bed.server.made.workshop.id
    with reading(bed.server.engine) as conn:
        known = {device.id: device for device in devices.phones(conn, workshop)}
        rows = list(read.whole_log(conn, workshop))
        refused = set(conn.scalars(select(log_tables.refused.c.hash)))
        registered = set(conn.execute(text("SELECT sha256 FROM media")).scalars())
    of = {name: (phone["phone"] or {"device": {"id": ""}})["device"]["id"] for name, phone in held.items()}
    able = {name for name, device in of.items() if device in known and not known[device].revoked}
    counted = Counter(row.hash for row in rows)
    shelf = store.folder(bed.server.settings)
    originals = {sha for sha in registered if shelf.has(sha) and sha256_hex(shelf.path(sha).read_bytes()) == sha}
    at_hand = {facts["sha256"] for name in able for facts in held[name]["originals"] if facts["whole"]}
    twice = [sha for sha, count in counted.items() if count > 1]
    return Facts(bed, held, able, {row.hash: row for row in rows}, twice, refused, originals, at_hand)


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
            chain = read.device_chain(conn, workshop, device.id)
            links = {row.entry["sequence"]: (row.hash, row.entry["previous"]) for row in chain}
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


def numbers_within_a_job_have_no_hole(bed: Bed) -> None:
    """Of every device and job: numbered from 1 on, logged or refused, each naming the hash before it, and the log that
    it knew the beginning of this one, as far as no restore took it away."""
    workshop = bed.server.made.workshop.id
    least = min(bed.cuts, default=None)
    with reading(bed.server.engine) as conn:
        r = log_tables.refused.c
        tree, now = Tree(conn, workshop), heads.latest(conn, workshop)
        for device in devices.all_of(conn, workshop):
            made = [(row.entry, row.hash) for row in read.device_chain(conn, workshop, device.id)]
            refused = conn.execute(select(r.bytes, r.hash).where(r.device == device.id, r.bytes != b""))
            made += [(parse(row.bytes), row.hash) for row in refused]
            last: dict[str, tuple[int, str]] = {}
            for entry, name in sorted(made, key=lambda pair: pair[0]["sequence"]):
                link = entry["links"]["job"]
                number, before = last.get(entry["job"], (0, FIRST))
                if link and (link["number"], link["previous"]) != (number + 1, before):
                    raise Broken(f"number {link['number']} of a job of {device.name} does not follow {number}")
                if link:
                    last[entry["job"]] = (link["number"], name)
                known = entry["links"]["log"]
                if known is None or (least is not None and known["size"] > least):
                    continue
                proof = [bytes.fromhex(node) for node in tree.consistency(known["size"], now.size)]
                roots = bytes.fromhex(known["root"]), bytes.fromhex(now.root)
                if not verify_consistency(known["size"], now.size, *roots, proof):
                    raise Broken(f"{device.name} knew a log of {known['size']} entries that does not begin this one")


def heads_only_grew(bed: Bed) -> None:
    """Every head a phone saw is the beginning of the log now; after a restore, as far as the backup reached."""
    workshop = bed.server.made.workshop.id
    with reading(bed.server.engine) as conn:
        tree, now = Tree(conn, workshop), heads.latest(conn, workshop)
        least = min(bed.cuts, default=None)
        for epoch, size, root in sorted(bed.heads):
            if epoch != marks.epoch(bed.server.settings) and least is not None and size > least:
                continue
            if size > now.size:
                raise Broken(f"a phone saw a head of {size} entries, the log has {now.size}")
            proof = [bytes.fromhex(node) for node in tree.consistency(size, now.size)]
            if not verify_consistency(size, now.size, bytes.fromhex(root), bytes.fromhex(now.root), proof):
                raise Broken(f"a phone saw a head of {size} entries that is not the beginning of the log")
        if read_head(now.bytes).root.hex() != now.root:
            raise Broken("the newest head is signed over another root")


def what_was_acknowledged_is_there_once(facts: Facts) -> None:
    """What a restore took away comes back from the phones that have it; nobody else can bring it."""
    if facts.twice:
        raise Broken(f"there twice: {facts.twice}")
    on_phones = {row["hash"] for name in facts.able for row in facts.held[name]["entries"] if row["mine"]}
    for hash_of_entry in facts.bed.receipts - set(facts.logged):
        if hash_of_entry not in facts.bed.cut or hash_of_entry in on_phones:
            raise Broken(f"acknowledged and not there: {hash_of_entry}")
    for sha256 in facts.bed.here - facts.originals:
        if not may_be_lost(facts, sha256):
            raise Broken(f"original acknowledged and not there: {sha256[:12]}")


def what_was_called_saved_is_kept(facts: Facts, phone: Phone) -> None:
    """On the phone for ever; on the server too, as a record or among the refused, if the phone may send."""
    held = facts.held[phone.name]
    rows = {row["id"]: row for row in held["entries"]}
    outbox = {row["key"] for row in held["outbox"]}
    shelf = {row["key"]: row for row in held["shelf"]}
    for saved in phone.saved:
        row, key, what = rows.get(saved.id), f"entry:{saved.id}", f"number {saved.sequence} of {phone.name}"
        if row is None or row["hash"] != saved.hash or not row["whole"]:
            raise Broken(f"{what} was called saved and is not on the phone")
        _its_originals_are_kept(facts, phone, saved, what)
        if phone.name in facts.able:
            refused = saved.hash in facts.refused and shelf.get(key, {}).get("settled")
            if key in outbox:
                raise Broken(f"{what} still waits: {held['why']}")
            if saved.hash not in facts.logged and not refused:
                raise Broken(f"{what} is nowhere on the server, {shelf.get(key)}")
        # A blocked phone is not told that a restore took something away: the record itself is all it has of it.
        elif saved.hash not in {*facts.logged, *facts.refused, *facts.bed.cut} and key not in {*outbox, *shelf}:
            raise Broken(f"{what} is nowhere")


def _its_originals_are_kept(facts: Facts, phone: Phone, saved: Saved, what: str) -> None:
    held = facts.held[phone.name]
    kept = {original["sha256"] for original in held["originals"] if original["whole"]}
    for sha256 in set(saved.media) - facts.originals:
        if may_be_lost(facts, sha256):
            continue
        if phone.name in facts.able and saved.hash in facts.logged:
            raise Broken(f"an original of {what} never came: {held['why']}")
        if sha256 not in kept:
            raise Broken(f"an original of {what} is nowhere")


def the_phone_agrees(facts: Facts, phone: Phone) -> None:
    """Receipts, chain, jobs and words of a phone fit what the server has."""
    held, bed = facts.held[phone.name], facts.bed
    with reading(bed.server.engine) as conn:
        end = read.chain_end(conn, bed.server.made.workshop.id, held["phone"]["device"]["id"])
    chain = held["chain"] or {"sequence": 0, "hash": FIRST}
    if (chain["sequence"], chain["hash"]) != (end.sequence, end.hash or chain["hash"]):
        raise Broken(f"{phone.name} ends its chain at {chain['sequence']}, the server at {end.sequence}")
    for row in held["entries"]:
        there = facts.logged.get(row["hash"])
        if row["mine"] and row["position"] is not None and (there is None or there.position != row["position"]):
            raise Broken(f"{phone.name} believes its number {row['sequence']} to be at {row['position']}")
    chosen = {job["id"] for job in held["jobs"] if job["chosen"]}
    here = {row["id"] for row in held["entries"]}
    if missing := [row.id for row in facts.logged.values() if row.job in {None, *chosen} and row.id not in here]:
        raise Broken(f"{phone.name} lacks {len(missing)} records of its jobs: {held['why']}, {held['alarm']}")
    if odd := [row for row in held["shelf"] if not _refused_rightly(row, held)]:
        raise Broken(f"{phone.name} has on its shelf: {odd}")
    _words_are_true(facts, phone)


def _words_are_true(facts: Facts, phone: Phone) -> None:
    """A phone complains where something was lost with a restore, and only there."""
    held, bed = facts.held[phone.name], facts.bed
    lost = [
        original
        for original in held["originals"]
        if not original["chunks"] and original["sha256"] not in facts.originals
    ]
    foreign = [row for row in held["entries"] if row["hash"] in bed.cut and row["hash"] not in facts.logged]
    words = held["alarm"], held["why"]
    if any(words) and not (bed.cuts and (lost or foreign or held["conflict"])):
        raise Broken(f"{phone.name} says without reason: {words}")
    if held["conflict"] and not bed.cuts:
        raise Broken(f"{phone.name} takes the log for another, which it is not: {held['conflict']}")
    if lost and not held["alarm"]:
        raise Broken(f"{phone.name} gave up an original that is lost, and says nothing")


def _refused_rightly(row: dict, held: dict) -> bool:
    """Whether the server had to refuse a record: it is at no place of the engine, or about a refused record."""
    about = {entry["id"]: entry["about"] for entry in held["entries"]}
    on_the_shelf = {entry["id"] for entry in held["shelf"]}
    expected = row["code"] == "unknown_place" or (row["code"] == "unknown_entry" and about[row["id"]] in on_the_shelf)
    return row["sort"] == "entry" and row["settled"] and expected


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


def may_be_lost(facts: Facts, sha256: str) -> bool:
    """An original may be lost with a restore when no phone that may send has its bytes any more; and where only the
    newest backup, or the database alone, was ever put back, no phone gave its bytes up that the backup did not hold."""
    given_up = any(
        original["sha256"] == sha256 and not original["chunks"]
        for name in facts.able
        for original in facts.held[name]["originals"]
    )
    return bool(facts.bed.cuts) and sha256 not in facts.at_hand and not (given_up and not facts.bed.older_put_back)
