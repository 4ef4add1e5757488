"""Cuts a pack. The steps, in order:

(1) read what the log holds of the job, and the head over it
(2) find out which originals are here
(3) put entries, receipts, head and key into the bag
(4) put the originals or their cleaned copies into the bag, each hashed on its way
(5) add the small pictures, which were drawn meanwhile
(6) set the PDF
(7) write the page
(8) write the manifests, have the server seal them, and put the bag in its place

Nothing is read from a projection, and every byte that goes in is hashed as it goes in.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection

from witnessmark.config import Settings
from witnessmark.db import now
from witnessmark.media import store
from witnessmark.pack import figures, joints, media, page, page_check, plates, record, report, spoken, words
from witnessmark.pack.bag import Bag
from witnessmark.pack.story import Story, story_of
from witnessmark.pack.typeset import Sheet
from witnessmark.people import persons, workshops
from witnessmark.people.server_key import ServerKey
from witnessmark.proof import keys, layout, pyz
from witnessmark.proof.canonical import sha256_hex
from witnessmark.sync import office
from witnessmark.trade.ground.sentences import say

# done and total in steps of the same weight, and what is being done, in words.
Progress = Callable[[int, int, str], None]


@dataclass(frozen=True)
class Built:
    """A finished pack. `tag_manifest` is the SHA-256 that stands for the whole of it; `size` in bytes."""

    path: Path
    name: str
    size: int
    tag_manifest: str
    entries: int
    head_size: int


def name_of(number: str, sort: str, moment: str) -> str:
    """The name of the pack's folder and file, safe on any machine: `job-2418-sealed-20260514-1042`."""
    plain = re.sub(r"[^A-Za-z0-9]+", "-", number).strip("-")[:40] or "unnamed"
    return f"job-{plain}-{sort}-{moment[:10].replace('-', '')}-{moment[11:16].replace(':', '')}"


def build(
    conn: Connection, settings: Settings, job: str, sort: str, out: Path, progress: Progress = lambda *_: None
) -> Built:
    """Cuts the pack of `job` into the folder `out`. `conn` is one consistent view, as `db.reading` gives it.

    Raises NoSuchJob, or Spoilt if an original was damaged on the workshop's disk; then no file is left behind.
    """
    if sort not in layout.SORTS:
        raise ValueError(f"sort is one of {', '.join(layout.SORTS)}, not {sort!r}")
    workshop, key, made = workshops.only(conn), office.key(settings), now()
    spki = base64.b64decode(key.public_key)
    record_here = record.gather(conn, workshop.id, job)  # (1)
    everyone = persons.everyone(conn, workshop.id)
    people = {person.id: person.name for person in everyone}
    managers = {person.id for person in everyone if person.role == "manager"}
    story = story_of(record_here.job, workshop.name, people, record_here.devices, record_here.engine_types)
    transcripts = spoken.transcripts(record_here.job, record_here.workshop, story, people)
    for exhibit in story.exhibits:
        exhibit.spoken = transcripts.get(exhibit.number)
    files = media.gather((exhibit.number, exhibit.media) for exhibit in story.exhibits)
    here = store.which(conn, [file.sha256 for file in files])  # (2)
    pictures = [file for file in files if file.role != "audio"]
    faults = store.faults(conn, [file.sha256 for file in pictures])
    total = 2 * len(files) + 3
    pack = {
        "entries": len(record_here.rows),
        "format": layout.FORMAT,
        "head_size": record_here.head.size,
        "job": job,
        "made": made,
        "server": keys.server_id(spki),
        "sort": sort,
        "workshop": workshop.id,
    }
    name = name_of(story.number, sort, made)
    moment = datetime.fromisoformat(made).astimezone(UTC)
    with (
        Bag(out / f"{name}.zip", name, moment) as bag,
        Sheet() as sheet,
        plates.Drawing(settings, pictures, here, faults, sheet.folder) as drawing,
    ):
        record.write(bag, record_here, spki, people, managers, pack)  # (3)
        for done, file in enumerate(files):
            progress(done, total, say("pack.progress.file", number=done + 1, of=len(files)))
            media.put(bag, settings, file, sort, file.sha256 in here)  # (4)
        record.write_media(bag, [file.record for file in files])
        for done, (file, drawn, fault) in enumerate(drawing.each()):  # (5)
            progress(len(files) + done, total, say("pack.progress.preview", number=done + 1))
            file.fault = say("pack.media.no_preview", fault=fault) if fault else ""
            if drawn:
                file.preview, file.ratio = drawn.path.name, drawn.ratio
                bag.add(f"{layout.PREVIEWS}{file.preview}", drawn.path.read_bytes())
        progress(total - 3, total, say("pack.progress.report"))
        verifier = pyz.make()
        about = {"sort": sort, "pack": pack, "verifier": sha256_hex(verifier)}
        contents = _contents(story, files, record_here, settings, managers=managers, people=people, **about)
        bag.add(layout.REPORT, sheet.print(contents, moment))  # (6)
        progress(total - 2, total, say("pack.progress.page"))
        bag.add(layout.PAGE, page.page(contents, story, files, page_check.signed(record_here, spki)))  # (7)
        progress(total - 1, total, "sealing")
        digest = bag.finish(
            _info(story, pack, workshop.name), _tags(story, pack, verifier), lambda data: _seal(key, data)
        )  # (8)
    progress(total, total, "ready")
    path = out / f"{name}.zip"
    return Built(path, path.name, path.stat().st_size, digest, len(record_here.rows), record_here.head.size)


def _contents(
    story: Story,
    files: list[media.MediaFile],
    here: record.Record,
    settings: Settings,
    *,
    sort: str,
    pack: dict,
    managers: set[str],
    people: dict[str, str],
    verifier: str,
) -> dict:
    """What report and page say."""
    head = {"root": here.head.root, "size": here.head.size, "time": here.head.time}
    sheets = figures.sheets(here.job, story.engine_type, here.known)
    runs = joints.runs(here.job, story.engine_type, here.known_tightening, sheets, managers, here.counted)
    runs = joints.arranged(runs, here.job, story.engine_type, here.known_tightening, people)
    sheets = figures.arranged(sheets, story.engine_type, here.known)
    program = f"witnessmark {settings.build}"
    more = {"missing": here.missing, "verifier": verifier}
    return report.report(story, files, sort, pack, program, head, settings.demo, sheets, runs, **more)


def _info(story: Story, pack: dict, workshop: str) -> list[tuple[str, str]]:
    fields = [
        ("Source-Organization", workshop),
        (
            "External-Description",
            say("pack.described", sort=words.SORT_TITLE[pack["sort"]], job=story.number, title=story.title),
        ),
        ("Bagging-Date", pack["made"][:10]),
        ("External-Identifier", pack["job"]),
        (layout.SORT_FIELD, pack["sort"]),
        ("Witnessmark-Server", pack["server"]),
        ("Witnessmark-Head-Size", str(pack["head_size"])),
    ]
    # A line end in a name would be read as the next field.
    return [(name, " ".join(value.split())) for name, value in fields]


def _tags(story: Story, pack: dict, verifier: bytes) -> list[tuple[str, bytes]]:
    counts = say("pack.counts", all=pack["entries"], job=len(story.exhibits))
    spoken_of = any(exhibit.spoken and exhibit.spoken["text"] for exhibit in story.exhibits)
    read_me = words.read_me(pack["sort"], story.workshop, story.number, pack["server"], counts, spoken_of)
    return [(layout.READ_ME, read_me), (layout.VERIFIER, verifier), (layout.VERIFY_SHEET, words.verify_sheet())]


def _seal(key: ServerKey, data: bytes) -> bytes:
    return keys.der_from_raw(base64.b64decode(key.sign(data)))
