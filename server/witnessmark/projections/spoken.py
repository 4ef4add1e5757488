"""What is known of each sound, as of the last record about it, and the workshop's own words.

A note rests on the engine type and the own words as they were when its last entry came in: so a replay makes the same
rows, and a word that is set later is heard by whoever asks the recognisers again.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence

from sqlalchemy import Connection, delete, insert, select

from witnessmark.db import add_rows
from witnessmark.log import read
from witnessmark.projections import measuring, tables
from witnessmark.projections.answers import SORTS
from witnessmark.projections.batch import Batch, Record, parts
from witnessmark.trade.ground.corrections import Standing, fold
from witnessmark.trade.measuring.procedures import BUILT_IN
from witnessmark.trade.record import own_words
from witnessmark.trade.spoken.notes import ABOUT, RECORDS, SOUND, TRANSCRIPT, of_standings

VERSION = 3
TABLES = [tables.spoken, tables.spoken_tie, tables.spoken_word]

_tie, _answer, _word = tables.spoken_tie.c, tables.answer.c, tables.spoken_word.c


def apply(batch: Batch) -> None:
    """Stores own words, ties each record about a sound to it, and rewrites the note of every such sound."""
    _store_words(batch)
    _tie_to_sounds(batch)
    ties = _ties_answered(batch)
    last_records: dict[str, Record] = {}
    for record in batch.records:
        for sound in _sounds_of(batch, record, ties):
            last_records[sound] = record  # the last one: a note rests on nothing later
    for sound, record in last_records.items():
        _write_note(batch, sound, record)


def standings(conn: Connection, workshop: str, sound: str) -> list[Standing]:
    """The sound, the records about it, the records that name it, and all corrections and withdrawals of these."""
    ids = [sound, *conn.scalars(select(_tie.id).where(_tie.workshop == workshop, _tie.sound == sound))]
    for part in parts(ids.copy()):
        ids += conn.scalars(select(_answer.id).where(_answer.workshop == workshop, _answer.root.in_(part)))
    rows = read.by_ids(conn, workshop, sorted(set(ids))).values()
    return fold(row.entry for row in sorted(rows, key=lambda row: row.position))


def of_rows(conn: Connection, rows: Sequence[int]) -> dict[int, dict]:
    """Row -> what is known of the sound under it, as trade/spoken/notes.py gives it, without words and their times."""
    notes, c = {}, tables.spoken.c
    for part in parts(rows):
        query = select(c.row, c.note).where(c.row.in_(part))
        notes.update((line.row, json.loads(line.note)) for line in conn.execute(query))
    return notes


def words_before(conn: Connection, workshop: str, row: int | None = None) -> list[dict]:
    """The workshop's own words that count, as trade/record/own_words gives them; with a row: that counted before it."""
    query = select(_word.data).where(_word.workshop == workshop).order_by(_word.row)
    if row is not None:
        query = query.where(_word.row < row)
    entries = ({"kind": own_words.KIND, "body": json.loads(data)} for data in conn.scalars(query))
    return own_words.own_words(entries)


def _store_words(batch: Batch) -> None:
    new_words = [
        {
            "row": row,
            "workshop": batch.workshop,
            "position": log.position,
            "id": entry["id"],
            "author": entry["author"],
            "received": log.received,
            "data": json.dumps(entry["body"], ensure_ascii=False, sort_keys=True),
        }
        for row, log, entry in batch.rows
        if entry["kind"] == own_words.KIND
    ]
    if new_words:
        batch.conn.execute(insert(tables.spoken_word), new_words)


def _tie_to_sounds(batch: Batch) -> None:
    ties = []
    for record in batch.records:
        entry, body = record.entry, record.entry["body"]
        if entry["kind"] in ABOUT:
            ties.append((record.row, batch.workshop, body["entry"], entry["id"]))
        elif entry["kind"] in RECORDS and body.get("spoken"):
            ties.append((record.row, batch.workshop, body["spoken"], entry["id"]))
        elif entry["kind"] == "entry_corrected" and (sound := body["changes"].get("spoken")):
            ties.append((record.row, batch.workshop, str(sound), body["entry"]))
    if ties:
        add_rows(batch.conn, tables.spoken_tie, ("row", "workshop", "sound", "id"), ties)


def _sounds_of(batch: Batch, record: Record, ties: Mapping[str, Sequence[str]]) -> Sequence[str]:
    """The sounds that a record is about, as ids; they may not be here."""
    entry, body = record.entry, record.entry["body"]
    if entry["kind"] == SOUND:
        return [entry["id"]]
    if entry["kind"] in ABOUT:
        return [body["entry"]]
    if entry["kind"] in RECORDS:
        return [body["spoken"]] if body.get("spoken") else ()
    root = batch.root_of(entry) if entry["kind"] in SORTS else None
    if root is None:
        return ()
    return [root.entry["id"]] if root.entry["kind"] == SOUND else ties.get(root.entry["id"], ())


def _ties_answered(batch: Batch) -> dict[str, list[str]]:
    """Id of a record that corrections and withdrawals of the batch are about in the end -> the sounds it belongs to."""
    roots = (batch.root_of(record.entry) for record in batch.records if record.entry["kind"] in SORTS)
    ids = sorted({row.entry["id"] for row in roots if row is not None and row.entry["kind"] in (*ABOUT, *RECORDS)})
    ties: dict[str, list[str]] = {}
    for part in parts(ids):
        query = select(_tie.id, _tie.sound).where(_tie.workshop == batch.workshop, _tie.id.in_(part)).distinct()
        for tie in batch.conn.execute(query):
            ties.setdefault(tie.id, []).append(tie.sound)
    return ties


def _write_note(batch: Batch, sound: str, record: Record) -> None:
    sound_row = read.by_id(batch.conn, batch.workshop, sound)
    if sound_row is None or sound_row.entry["kind"] != SOUND or sound_row.entry["job"] != record.entry["job"]:
        return
    own_words_then = words_before(batch.conn, batch.workshop, record.row)
    standing_records = standings(batch.conn, batch.workshop, sound)
    procedures = _procedures(batch, sound_row.entry, record.row)
    note = of_standings(standing_records, sound, record.engine_type, own_words_then, procedures)
    row = batch.base + sound_row.position
    batch.conn.execute(delete(tables.spoken).where(tables.spoken.c.row == row))
    note["results"] = [{name: result[name] for name in result if name != "words"} for result in note["results"]]
    columns = {
        "row": row,
        "workshop": batch.workshop,
        "job": sound_row.entry["job"],
        "id": sound,
        "sha256": sound_row.entry["media"][0]["sha256"],
        "state": note["state"],
        "heard": note["transcript"] is not None,
        "due": _due(standing_records, sound),
        "open": note["query"] is not None,
        "note": json.dumps(note | {"words": []}, ensure_ascii=False, sort_keys=True),
    }
    batch.conn.execute(insert(tables.spoken), columns)


def _procedures(batch: Batch, sound: dict, row: int) -> dict[str, dict]:
    """The built-in procedures, and the workshop's own that the sound was spoken to as it was known before a row."""
    code = sound["body"].get("procedure", "")
    own_procedure = measuring.own_procedure(batch.conn, batch.workshop, code, row)
    return {**BUILT_IN, code: own_procedure} if own_procedure else BUILT_IN


def _due(standing_records: Iterable[Standing], sound: str) -> bool:
    """A sound is listened to once by itself: not any more when it was withdrawn, nor when its transcript was. Whoever
    wants one all the same asks for it."""
    withdrawn = any(standing.entry["id"] == sound and standing.withdrawn_by for standing in standing_records)
    return not withdrawn and not any(standing.entry["kind"] == TRANSCRIPT for standing in standing_records)
