"""What an entry must fit besides its own shape: the people, the engine of its job, the entry it speaks of.

Answers are remembered for the length of one batch; entries accepted earlier in it count as known.
"""

from __future__ import annotations

import json

from sqlalchemy import Connection, select

from witnessmark.log import read
from witnessmark.people import persons
from witnessmark.projections import tables as views
from witnessmark.trade.engine.locations import codes
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record import own_words
from witnessmark.trade.record.kinds import ABOUT, KINDS, check_entry, field_check, written_by
from witnessmark.trade.spoken import pronunciation

OWN_WORD = own_words.KIND
OF_A_PHONE = written_by("phone")
ABOUT_ANOTHER, ABOUT_A_SOUND = ABOUT["record"], ABOUT["sound"]
SOUND = "sound_recorded"


class Rules:
    """The rules as they stand in one transaction. `check` refuses; `note` is told what was accepted."""

    def __init__(self, conn: Connection, workshop: str) -> None:
        self._conn = conn
        self._workshop = workshop
        self._people = persons.ids(conn, workshop)
        # What each job's engine was said to be, the last word last; then what it ever was said to be, if asked for.
        self._engine_types: dict[str, list[str]] = {}
        self._ever: dict[str, set[str]] = {}
        self._places: dict[str, frozenset[str]] = {}
        self._accepted: dict[str, tuple[str, dict]] = {}

    def check_from_phone(self, entry: dict) -> None:
        """Raises Refusal unless a phone may write this entry, and it fits."""
        check_entry(entry)
        if entry["kind"] not in OF_A_PHONE:
            words = KINDS[entry["kind"]].words.lower()
            raise Refusal("of_the_desk", "kind", say("server.records.of_the_desk", kind=words.capitalize()))
        self.check(entry)

    def check(self, entry: dict) -> None:
        """Raises Refusal unless author, place and the entry spoken of are known. Requires a well-made entry."""
        if entry["author"] not in self._people and not _by_the_desk_itself(entry):
            raise Refusal("unknown_person", "author", say("server.records.unknown_person"))
        if entry["location"] is not None and entry["job"] is not None:
            self._check_place(entry["job"], entry["location"]["place"], "location.place")
        if entry["kind"] in ABOUT_ANOTHER | ABOUT_A_SOUND:
            self._check_target(entry)
        if spoken := entry["body"].get("spoken"):
            self._check_spoken(entry["job"], spoken, "body.spoken")
        if entry["kind"] == OWN_WORD:
            _check_word(entry["body"])

    def note(self, entry: dict, entry_hash: str) -> None:
        """Tells that this entry goes into the log with the batch."""
        self._accepted[entry["id"]] = (entry_hash, entry)
        if (said := _said_engine_type(entry)) is not None:
            self._said_of(entry["job"]).append(said)

    def _check_place(self, job: str, place: str, where: str) -> None:
        said = self._said_of(job)
        known = self._places_of(said[-1])
        if known and place not in known and not any(place in self._places_of(one) for one in self._ever_said_of(job)):
            raise Refusal(
                "unknown_place",
                where,
                say("server.records.unknown_place", place=repr(place)),
            )

    def _check_target(self, entry: dict) -> None:
        body = entry["body"]
        found = self._found(body["entry"])
        if found is None or found[1]["job"] != entry["job"]:
            raise Refusal("unknown_entry", "body.entry", say("server.records.not_of_the_job"))
        if found[0] != body["entry_hash"]:
            raise Refusal("other_entry", "body.entry_hash", say("server.records.reads_differently"))
        if entry["kind"] in ABOUT_A_SOUND and found[1]["kind"] != SOUND:
            raise Refusal("no_sound", "body.entry", say("server.records.no_sound"))
        if entry["kind"] == "entry_withdrawn" and KINDS[found[1]["kind"]].withdrawals == "refused":
            raise Refusal(
                "not_withdrawable",
                "body.entry",
                say("server.records.not_withdrawable"),
            )
        if entry["kind"] == "entry_corrected":
            self._check_changes(entry, found[1])

    def _check_changes(self, entry: dict, target: dict) -> None:
        if KINDS[target["kind"]].corrections == "refused":
            raise Refusal("not_correctable", "body.entry", say("server.records.not_correctable"))
        fields = KINDS[target["kind"]].versions[target["version"]]["body"]
        for name, value in entry["body"]["changes"].items():
            if name not in fields:
                raise Refusal(
                    "unknown_field", f"body.changes.{name}", say("server.records.no_such_field", field=repr(name))
                )
            if reason := field_check(fields[name])(value):
                raise Refusal(
                    "bad_value", f"body.changes.{name}", say("server.records.bad_correction", field=name, reason=reason)
                )
        if spoken := entry["body"]["changes"].get("spoken"):
            self._check_spoken(entry["job"], spoken, "body.changes.spoken")
        place = entry["body"]["location"]
        if place is not None and entry["job"] is not None:
            self._check_place(entry["job"], place["place"], "body.location.place")

    def _check_spoken(self, job: str, sound: str, where: str) -> None:
        """A sound that is not here may still come, or was lost with its phone: the record made from it stands without.
        One that is here must be a sound of the same job."""
        found = self._found(sound)
        if found is not None and (found[1]["job"] != job or found[1]["kind"] != SOUND):
            raise Refusal("no_sound", where, say("server.records.not_its_sound"))

    def _found(self, id: str) -> tuple[str, dict] | None:
        """Hash and entry under an id, of the batch or of the log."""
        if id in self._accepted:
            return self._accepted[id]
        row = read.by_id(self._conn, self._workshop, id)
        return (row.hash, row.entry) if row else None

    def _said_of(self, job: str) -> list[str]:
        """Engine types of a job as known before the batch and as said in it, at least one, the last word last."""
        if job not in self._engine_types:
            c = views.job.c
            query = select(c.engine_type).where(c.workshop == self._workshop, c.id == job)
            self._engine_types[job] = [self._conn.execute(query).scalar() or ""]
        return self._engine_types[job]

    def _ever_said_of(self, job: str) -> set[str]:
        """Every engine type a job ever had: a phone that was away may not know yet that it was set right.

        Reads the whole record of the job, so only for a place that the engine as it is known now does not have.
        """
        if job not in self._ever:
            entries = (row.entry for row in read.job_entries(self._conn, self._workshop, job))
            self._ever[job] = {said for entry in entries if (said := _said_engine_type(entry)) is not None}
        return self._ever[job] | set(self._said_of(job))

    def _places_of(self, engine_type: str) -> frozenset[str]:
        """Places of every description ever given: a phone that was away may still work with an older one."""
        if engine_type not in self._places:
            c = views.engine_type.c
            query = select(c.data).where(c.workshop == self._workshop, c.id == engine_type)
            every = [codes(json.loads(data)) for data in self._conn.execute(query).scalars()]
            self._places[engine_type] = frozenset().union(*every)
        return self._places[engine_type]


def _by_the_desk_itself(entry: dict) -> bool:
    """Whether the office wrote it without anybody: what its machines heard. Phones may not write such a thing."""
    return entry["kind"] == "transcript_made" and entry["author"] == entry["device"]


def _said_engine_type(entry: dict) -> str | None:
    """The engine type an entry says its job has, None if it says nothing of it."""
    body = entry["body"]
    if entry["kind"] == "job_opened":
        return body["engine_type"]
    return body["changes"].get("engine_type") if entry["kind"] in ("job_amended", "entry_corrected") else None


def _check_word(body: dict) -> None:
    """A word of the workshop must be sayable, with somebody to say how, and stand for something that there is."""
    for where, said in (("body.word", body["word"]), *(("body.sounds_like", one) for one in body["sounds_like"])):
        if not own_words.sayable(said):
            told = say("server.words.not_sayable", word=repr(said))
            raise Refusal("bad_value", where, told)
    if not own_words.is_known(body["means"]):
        told = say("server.words.no_meaning", meaning=repr(body["means"]))
        raise Refusal("bad_value", "body.means", told)
    known = not body["sounds_like"] and body["word"].lower() in pronunciation.WORDS
    if body["retired"] or known:
        return
    try:
        pronunciation.example(body)
    except Refusal as refusal:
        raise Refusal("bad_value", "body.sounds_like", refusal.message) from None
