"""One run of new log rows passing through the projections, with what they all need looked up once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sqlalchemy import Connection, func, insert, select

from witnessmark.log import read
from witnessmark.log.rows import Row
from witnessmark.projections import described, facts, tables, words
from witnessmark.projections.fact_fold import FactFold
from witnessmark.projections.words import tag
from witnessmark.trade.engine.locations import place_name

MOST_AT_ONCE = 500  # SQLite takes a limited number of variables in one statement


class Record(NamedTuple):
    """An entry of a job with its running number in that job."""

    row: int
    exhibit: int
    log: Row
    entry: dict
    job: dict  # the job's facts after the batch: a row of the job table, shared by all its records
    engine_type: dict | None  # as described when this record came in


def parts(values: Sequence, size: int = MOST_AT_ONCE) -> list[Sequence]:
    """`values` cut into runs that fit into one statement."""
    return [values[start : start + size] for start in range(0, len(values), size)]


def number_of(conn: Connection, workshop: str) -> int | None:
    """The small number that stands for a workshop in row ids; None before its first record."""
    table = tables.workshop_number
    return conn.scalar(select(table.c.number).where(table.c.workshop == workshop))


def first_row(number: int) -> int:
    """The row id below all rows of the workshop with this number."""
    return number << tables.POSITION_BITS


def base_row(conn: Connection, workshop: str, beyond: int = 0) -> int:
    """The row id that, with a position added, gives a record's row. With `beyond` 1: the end of the workshop's rows."""
    return first_row((number_of(conn, workshop) or 0) + beyond)


class Batch:
    """New rows of one workshop, in order of position. `records` are those that belong to a job.

    What is derived from a record depends on the log up to that record and on nothing later, however the rows were
    cut into batches: so a replay makes the same rows.
    """

    def __init__(self, conn: Connection, workshop: str, logged: Sequence[Row]):
        self.conn = conn
        self.workshop = workshop
        self.base = first_row(self._number())
        self.rows = [(self.base + row.position, row, row.entry) for row in logged]
        self.jobs = self._known_jobs()
        # A workshop's own procedures by code: (row, name) of every edition, the newest first; see measuring.py.
        self.procedures: dict[str, list[tuple[int, str]]] = {}
        self._engine_types: dict[str, dict | None] = {}
        self._places: dict[tuple[int, str], str] = {}
        # The records that corrections and withdrawals of this batch name, by id; and for each such answer the id of
        # the record at the end of its chain, whose row is here as well.
        self.targets = self._targets()
        self.roots = self._roots()
        self._folds: dict[str, FactFold] = {}
        self._fact_entries: dict[str, list[dict]] = defaultdict(list)
        self.records = list(self._records())

    def _number(self) -> int:
        number = number_of(self.conn, self.workshop)
        if number is None:
            number = self.conn.scalar(select(func.count()).select_from(tables.workshop_number))
            self.conn.execute(insert(tables.workshop_number), {"workshop": self.workshop, "number": number})
        return number

    def _known_jobs(self) -> dict[str, dict]:
        jobs = {}
        for part in parts(sorted({entry["job"] for _, _, entry in self.rows if entry["job"]})):
            query = select(tables.job).where(tables.job.c.workshop == self.workshop, tables.job.c.id.in_(part))
            jobs.update((columns["id"], dict(columns)) for columns in self.conn.execute(query).mappings())
        return jobs

    def _records(self) -> Iterator[Record]:
        for row, log, entry in self.rows:
            if entry["kind"] == "engine_type_described":
                engine_type = entry["body"]["engine_type"]
                self._engine_types[engine_type["id"]] = described.usable(described.write(engine_type))
            if not (id := entry["job"]):
                continue
            job = self.jobs.get(id)
            if job is None:
                job = self.jobs[id] = facts.unknown(self.workshop, id, row)
            fold = self._fold(job, entry)
            facts.apply_entry(job, entry, log.position, log.received)
            if fold is not None:
                job["engine_type"] = fold.engine_type()
            yield Record(row, job["entries"], log, entry, job, self._engine_type(job["engine_type"]))
        for id, fold in self._folds.items():
            facts.apply_fold(self.jobs[id], fold)

    def _fold(self, job: dict, entry: dict) -> FactFold | None:
        """The fold of the job's facts with this record in it; None while no record of the batch asks for one."""
        id, fold = job["id"], self._folds.get(job["id"])
        if not (entry["kind"] in facts.DECIDING or self._answers_facts(entry)):
            return fold
        if fold is None and (entry["kind"] in facts.ANSWERS or facts.needs_fold(job, entry)):
            fold = self._folds[id] = FactFold([*self._earlier_fact_entries(id), *self._fact_entries.pop(id, ())])
        if fold is None:
            self._fact_entries[id].append(entry)
        else:
            fold.add(entry)
        return fold

    def _targets(self) -> dict[str, Row]:
        named = {entry["body"]["entry"] for _, _, entry in self.rows if entry["kind"] in facts.ANSWERS}
        return read.by_ids(self.conn, self.workshop, sorted(named)) if named else {}

    def _roots(self) -> dict[str, str]:
        c = tables.answer.c
        roots: dict[str, str] = {}
        named = [self.base + row.position for row in self.targets.values() if row.entry["kind"] in facts.ANSWERS]
        for part in parts(sorted(named)):
            roots.update(
                (line.id, line.root) for line in self.conn.execute(select(c.id, c.root).where(c.row.in_(part)))
            )
        earlier = {root for root in roots.values() if root not in self.targets}
        self.targets |= read.by_ids(self.conn, self.workshop, sorted(earlier)) if earlier else {}
        for _, _, entry in self.rows:
            if entry["kind"] in facts.ANSWERS:
                target = entry["body"]["entry"]
                roots[entry["id"]] = roots.get(target, target)
        return roots

    def root_of(self, entry: dict) -> Row | None:
        """The record that a correction or withdrawal of this batch is about in the end; None when it is not here."""
        return self.targets.get(self.roots[entry["id"]])

    def _answers_facts(self, entry: dict) -> bool:
        """Whether it answers a record that gives job facts, or an answer to one."""
        root = self.root_of(entry) if entry["kind"] in facts.ANSWERS else None
        return root is not None and root.entry["kind"] in facts.DECIDING

    def _earlier_fact_entries(self, job: str) -> list[dict]:
        """The records of earlier batches that the facts of a job rest on, oldest first."""
        kinds = " OR ".join(tag(words.KIND, kind) for kind in sorted(facts.DECIDING))
        match = f"tags : ({tag(words.JOB, job)} AND ({kinds}))"
        rows = words.RECORD_WORDS.rows(self.conn, match, words.ALL, newest_first=False)
        logged = read.positions(self.conn, self.workshop, [row - self.base for row in rows])
        c, answered = tables.answer.c, []
        for part in parts([log.id for log in logged]):
            query = select(c.row).where(c.workshop == self.workshop, c.root.in_(part))
            answered += [row - self.base for row in self.conn.scalars(query)]
        logged += read.positions(self.conn, self.workshop, answered)
        return [log.entry for log in sorted(logged, key=lambda log: log.position)]

    def _engine_type(self, id: str) -> dict | None:
        if id not in self._engine_types:
            table = tables.engine_type
            query = select(table.c.data).where(table.c.workshop == self.workshop, table.c.id == id)
            data = self.conn.scalar(query.order_by(table.c.position.desc()).limit(1)) if id else None
            self._engine_types[id] = described.usable(data)
        return self._engine_types[id]

    def place_name(self, engine_type: dict | None, place: str) -> str:
        """A place in words, on an engine of that type."""
        key = (id(engine_type), place)  # an engine type in use keeps its address: the records hold it
        if key not in self._places:
            self._places[key] = place_name(engine_type, place)
        return self._places[key]
