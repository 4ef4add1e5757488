"""What an entry must fit besides its own shape: the people, the engine of its job, the entry it refers to.

Answers are remembered for the length of one batch; entries accepted earlier in it count as known.
"""

from __future__ import annotations

import json

from sqlalchemy import Connection, select

from witnessmark.log import read
from witnessmark.media import store
from witnessmark.people import persons
from witnessmark.projections import tables as views
from witnessmark.trade.engine.locations import codes
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record import own_words
from witnessmark.trade.record.kinds import ABOUT, KINDS, LIMITS, check_entry, field_check, written_by
from witnessmark.trade.spoken import pronunciation

OWN_WORD = own_words.KIND
OF_A_PHONE = written_by("phone")
ABOUT_ANOTHER, ABOUT_A_SOUND = ABOUT["record"], ABOUT["sound"]
SOUND = "sound_recorded"
LONGEST = LIMITS["entry_bytes"]  # of a phone's entry; the office's own may be longer: an engine type with its drawings


class Rules:
    """The rules as they stand in one transaction. `check` refuses; `note` is called with what was accepted."""

    def __init__(self, conn: Connection, workshop: str) -> None:
        self._conn = conn
        self._workshop = workshop
        self._people = persons.ids(conn, workshop)
        # The engine types stated for each job, the newest last; then every one the job ever had, where that was needed.
        self._engine_types: dict[str, list[str]] = {}
        self._all_engine_types: dict[str, set[str]] = {}
        self._places: dict[str, frozenset[str]] = {}
        self._accepted: dict[str, tuple[str, dict]] = {}

    def check_from_phone(self, entry: dict, length: int) -> None:
        """Raises Refusal unless a phone may write this entry of `length` bytes, and it fits."""
        if length > LONGEST:
            raise Refusal("too_long", "bytes", say("server.sync.too_long", length=length, most=LONGEST))
        check_entry(entry)
        if entry["kind"] not in OF_A_PHONE:
            words = KINDS[entry["kind"]].words.lower()
            raise Refusal("of_the_desk", "kind", say("server.records.of_the_desk", kind=words.capitalize()))
        self.check(entry)

    def check(self, entry: dict) -> None:
        """Raises Refusal unless author, place and the entry referred to are known. Requires a well-made entry."""
        if entry["author"] not in self._people and not _by_the_desk_itself(entry):
            raise Refusal("unknown_person", "author", say("server.records.unknown_person"))
        if entry["location"] is not None and entry["job"] is not None:
            self._check_place(entry["job"], entry["location"]["place"], "location.place")
        if entry["media"]:
            self._check_media(entry["media"])
        if entry["kind"] in ABOUT_ANOTHER | ABOUT_A_SOUND:
            self._check_target(entry)
        if spoken := entry["body"].get("spoken"):
            self._check_spoken(entry["job"], spoken, "body.spoken")
        if entry["kind"] == OWN_WORD:
            _check_word(entry["body"])

    def note(self, entry: dict, entry_hash: str) -> None:
        """Notes that this entry goes into the log with the batch."""
        self._accepted[entry["id"]] = (entry_hash, entry)
        if (engine_type := _stated_engine_type(entry)) is not None:
            self._engine_types_of(entry["job"]).append(engine_type)

    def _check_place(self, job: str, place: str, where: str) -> None:
        known = self._places_of(self._engine_types_of(job)[-1])
        if not known or place in known:
            return
        if not any(place in self._places_of(engine_type) for engine_type in self._all_engine_types_of(job)):
            raise Refusal(
                "unknown_place",
                where,
                say("server.records.unknown_place", place=repr(place)),
            )

    def _check_media(self, items: list[dict]) -> None:
        """A file that is here has one length; one that is still on its way is measured when it comes."""
        here = store.lengths(self._conn, [item["sha256"] for item in items])
        for number, item in enumerate(items):
            length = here.get(item["sha256"], item["length"])
            if item["length"] != length:
                reason = say("server.records.other_length", stated=item["length"], length=length)
                raise Refusal("other_length", f"media.{number}.length", reason)

    def _check_target(self, entry: dict) -> None:
        body = entry["body"]
        target = self._by_id(body["entry"])
        if target is None or target[1]["job"] != entry["job"]:
            raise Refusal("unknown_entry", "body.entry", say("server.records.not_of_the_job"))
        if target[0] != body["entry_hash"]:
            raise Refusal("other_entry", "body.entry_hash", say("server.records.reads_differently"))
        if entry["kind"] in ABOUT_A_SOUND and target[1]["kind"] != SOUND:
            raise Refusal("no_sound", "body.entry", say("server.records.no_sound"))
        if entry["kind"] == "entry_withdrawn" and KINDS[target[1]["kind"]].withdrawals == "refused":
            raise Refusal(
                "not_withdrawable",
                "body.entry",
                say("server.records.not_withdrawable"),
            )
        if entry["kind"] == "entry_corrected":
            self._check_changes(entry, target[1])

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
        """A sound that is not here may still come, or was lost with its phone: the record made from it stands
        without it. One that is here must be a sound of the same job."""
        target = self._by_id(sound)
        if target is not None and (target[1]["job"] != job or target[1]["kind"] != SOUND):
            raise Refusal("no_sound", where, say("server.records.not_its_sound"))

    def _by_id(self, id: str) -> tuple[str, dict] | None:
        """Hash and entry under an id, of the batch or of the log."""
        if id in self._accepted:
            return self._accepted[id]
        row = read.by_id(self._conn, self._workshop, id)
        return (row.hash, row.entry) if row else None

    def _engine_types_of(self, job: str) -> list[str]:
        """Engine types of a job as known before the batch and as stated in it, at least one, the newest last."""
        if job not in self._engine_types:
            c = views.job.c
            query = select(c.engine_type).where(c.workshop == self._workshop, c.id == job)
            self._engine_types[job] = [self._conn.execute(query).scalar() or ""]
        return self._engine_types[job]

    def _all_engine_types_of(self, job: str) -> set[str]:
        """Every engine type a job ever had: a phone that was away may not know yet that it was corrected.

        Reads the whole record of the job, so only for a place that the engine as it is known now does not have.
        """
        if job not in self._all_engine_types:
            entries = (row.entry for row in read.job_entries(self._conn, self._workshop, job))
            self._all_engine_types[job] = {
                engine_type for entry in entries if (engine_type := _stated_engine_type(entry)) is not None
            }
        return self._all_engine_types[job] | set(self._engine_types_of(job))

    def _places_of(self, engine_type: str) -> frozenset[str]:
        """Places of every description ever given: a phone that was away may still work with an older one."""
        if engine_type not in self._places:
            c = views.engine_type.c
            query = select(c.data).where(c.workshop == self._workshop, c.id == engine_type)
            every = [codes(json.loads(data)) for data in self._conn.execute(query).scalars()]
            self._places[engine_type] = frozenset().union(*every)
        return self._places[engine_type]


def _by_the_desk_itself(entry: dict) -> bool:
    """Whether the office wrote it without a person: a machine transcript. Phones may not write such a thing."""
    return entry["kind"] == "transcript_made" and entry["author"] == entry["device"]


def _stated_engine_type(entry: dict) -> str | None:
    """The engine type an entry states for its job, None if it states none."""
    body = entry["body"]
    if entry["kind"] == "job_opened":
        return body["engine_type"]
    return body["changes"].get("engine_type") if entry["kind"] in ("job_amended", "entry_corrected") else None


def _check_word(body: dict) -> None:
    """A word of the workshop must be sayable, with somebody to say how, and have a meaning that exists."""
    spellings = [("body.word", body["word"]), *(("body.sounds_like", spelling) for spelling in body["sounds_like"])]
    for where, spelling in spellings:
        if not own_words.sayable(spelling):
            raise Refusal("bad_value", where, say("server.words.not_sayable", word=repr(spelling)))
    if not own_words.is_known(body["means"]):
        raise Refusal("bad_value", "body.means", say("server.words.no_meaning", meaning=repr(body["means"])))
    known = not body["sounds_like"] and body["word"].lower() in pronunciation.WORDS
    if body["retired"] or known:
        return
    try:
        pronunciation.example(body)
    except Refusal as refusal:
        raise Refusal("bad_value", "body.sounds_like", refusal.message) from None
