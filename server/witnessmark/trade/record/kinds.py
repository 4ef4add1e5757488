"""The kinds of entry: which there are, and whether one entry is made as its kind asks.

All that is known of a kind is data: data/kinds/<kind>.json, and data/kinds.json says what the words in it mean. The
shapes are compiled here once into plain functions, because the server checks thousands of entries in a second and the
phone's twin must say the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.engine.types import check as check_engine_type
from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table, tables
from witnessmark.trade.measuring import gauges, limits, procedures
from witnessmark.trade.measuring import rules as measuring_rules
from witnessmark.trade.tightening import sheets as tightening_sheets
from witnessmark.trade.tightening import tools as torque_tools

_TABLE = table("kinds")
LIMITS: dict[str, int] = _TABLE["limits"]
GROUPS: dict[str, str] = _TABLE["groups"]
STAGE_CODES = frozenset(stage["code"] for stage in table("stages")["stages"])

ENTRY_KEYS = frozenset(
    ("author", "body", "claimed", "clock", "device", "id", "job", "kind", "location")
    + ("media", "previous", "sequence", "stage", "version", "workshop")
)
# Since 2026-12 an entry also has links: its number and the entry before it within its job, and the log as its device
# last knew it. Older entries have none and stay as they are.
LINKED_KEYS = ENTRY_KEYS | {"links"}
LINK_KEYS = frozenset({"job", "log"})
JOB_LINK_KEYS = frozenset({"number", "previous"})
LOG_LINK_KEYS = frozenset({"root", "size"})
CLOCK_KEYS = frozenset({"boot", "monotonic_ms", "offset_age_s", "offset_ms", "zone"})
MEDIA_KEYS = frozenset({"length", "name", "role", "sha256", "type"})
# Since 2026-12 a phone also signs which pixels a picture has, so that a cleaned copy can be tied to it.
PICTURE_KEYS = MEDIA_KEYS | {"scan_sha256"}


@dataclass(frozen=True)
class MediaRule:
    """An entry of the kind carries exactly `count` files in `role`, each of a type that starts with one of `types`."""

    role: str
    count: int
    types: tuple[str, ...]


@dataclass(frozen=True)
class Kind:
    """One kind of entry, as data/kinds.json explains its facts. `job` is "needed", "none" or "either"; `versions` are
    all that were ever given out; `field_facts` has every field of every version; `counted_as` is "" for a kind that the
    report does not count on its first page."""

    name: str
    words: str
    says: str
    sign: str
    group: str
    counted_as: str
    written_by: frozenset[str]
    job: str
    feed: str
    may_have_location: bool
    about: str
    corrections: str
    withdrawals: str
    line: Mapping[str, str]
    view: str
    read_there: tuple[str, ...]
    field_facts: Mapping[str, Mapping[str, Any]]
    versions: Mapping[int, Mapping[str, Any]]

    @property
    def needs_job(self) -> bool:
        return self.job == "needed"

    @property
    def in_workshop_feed(self) -> bool:
        """True when every phone of the workshop keeps such entries, whichever jobs it keeps."""
        return self.feed in ("workshop", "both")

    @property
    def latest(self) -> int:
        return max(self.versions)

    @property
    def media(self) -> MediaRule | None:
        return media_rule(self.versions[self.latest])

    @property
    def fields(self) -> Mapping[str, Mapping[str, Any]]:
        return self.versions[self.latest]["body"]


def media_rule(version: Mapping[str, Any]) -> MediaRule | None:
    rule = version["media"]
    return None if rule is None else MediaRule(rule["role"], rule["count"], tuple(rule["types"]))


def _kind(name: str, spec: Mapping[str, Any]) -> Kind:
    return Kind(
        name,
        spec["words"],
        spec["says"],
        spec["sign"],
        spec["group"],
        spec.get("counted_as", ""),
        frozenset(spec["written_by"]),
        spec["job"],
        spec["feed"],
        spec["location"],
        spec["about"],
        spec["corrections"],
        spec["withdrawals"],
        spec["line"],
        spec["large"]["as"],
        tuple(spec["large"]["fields"]),
        spec["fields"],
        {int(number): shape for number, shape in spec["versions"].items()},
    )


KINDS: dict[str, Kind] = {name: _kind(name, spec) for name, spec in tables("kinds").items()}
# Kinds that speak of another record ("record") or of a sound ("sound") and are read there.
ABOUT: dict[str, frozenset[str]] = {
    what: frozenset(kind.name for kind in KINDS.values() if kind.about == what) for what in ("record", "sound")
}


def written_by(writer: str) -> frozenset[str]:
    """The kinds that a "phone", the "desk", a "register" or the "server" writes."""
    return frozenset(kind.name for kind in KINDS.values() if writer in kind.written_by)


def drawn_as(view: str) -> frozenset[str]:
    """The kinds that are drawn as a "picture", a "reading" or another of the views of data/kinds.json."""
    return frozenset(kind.name for kind in KINDS.values() if kind.view == view)


def kinds_with(field: str) -> frozenset[str]:
    """The kinds whose newest version has this field, such as "run" or "spoken"."""
    return frozenset(kind.name for kind in KINDS.values() if field in kind.fields)


# What a record says of the sound it was spoken in when it was typed.
TYPED = {"spoken": "", "heard": "", "heard_by": ""}


def _stage(value: Any) -> str | None:
    return None if type(value) is str and value in STAGE_CODES else say("trade.record.wrong.stage")


def _free_of_faults(key: str, check: Callable[[Any], Sequence[Any]]) -> shapes.Check:
    """The check of a field that holds a whole description: it is taken when nothing is wrong with it."""

    def reason(value: Any) -> str | None:
        faults = check(value)
        return say(key, fault=faults[0].message.rstrip(".")) if faults else None

    return reason


_JOB_FACTS = {name: shapes.shape(spec) for name, spec in KINDS["job_opened"].fields.items()}


def _job_changes(value: Any) -> str | None:
    if type(value) is not dict or not value:
        return say("trade.record.wrong.no_fact")
    for name, new in value.items():
        if name not in _JOB_FACTS:
            return say("trade.record.wrong.strange_fact", name=name)
        if reason := _JOB_FACTS[name](new):
            return say("trade.record.wrong.has", name=name, reason=reason)
    return None


_SPECIAL = {
    "stage": _stage,
    "job_changes": _job_changes,
    "engine_type": _free_of_faults("trade.record.wrong.thing_engine_type", check_engine_type),
    "gauge": _free_of_faults("trade.record.wrong.thing_gauge", gauges.check),
    "limit": _free_of_faults("trade.record.wrong.thing_limit", limits.check),
    "size": _free_of_faults("trade.record.wrong.thing_size", limits.check_size),
    "procedure": _free_of_faults("trade.record.wrong.thing_procedure", procedures.check),
    "tightening_sheet": _free_of_faults("trade.record.wrong.thing_tightening_sheet", tightening_sheets.check),
    "torque_tool": _free_of_faults("trade.record.wrong.thing_torque_tool", torque_tools.check),
    "measuring_rules": _free_of_faults("trade.record.wrong.thing_measuring_rules", measuring_rules.check),
}


def field_check(spec: Mapping[str, Any]) -> shapes.Check:
    """The check of one field as its kind describes it."""
    return _SPECIAL.get(spec["is"]) or shapes.shape(dict(spec))


def _body_check(kind: Kind, version: Mapping[str, Any]) -> Callable[[Any], None]:
    checks = [(name, field_check(spec)) for name, spec in version["body"].items()]
    keys = frozenset(version["body"])

    def check(body: Any) -> None:
        if type(body) is not dict:
            raise _refusal(kind, "bad_value", "body", say("trade.record.wrong.not_object"))
        if body.keys() != keys:
            _refuse_keys(kind, "body", body, keys)
        for name, reason_against in checks:
            if reason := reason_against(body[name]):
                raise _refusal(kind, "bad_value", f"body.{name}", reason)

    return check


def _media_check(kind: Kind, rule: MediaRule | None) -> Callable[[Any], None]:
    name_check = shapes.text(LIMITS["media_name"])
    type_check = shapes.text(100, 1)
    length_check = shapes.whole(1, LIMITS["media_bytes"])
    count = rule.count if rule else 0

    def check(media: Any) -> None:
        if type(media) is not list:
            raise _refusal(kind, "bad_value", "media", say("trade.record.wrong.not_list"))
        if len(media) != count:
            raise _refusal(
                kind, "media", "media", say("trade.record.wrong.media_count", given=len(media), wanted=count)
            )
        for index, item in enumerate(media):
            where = f"media.{index}"
            if type(item) is not dict:
                raise _refusal(kind, "bad_value", where, say("trade.record.wrong.not_object"))
            keys = PICTURE_KEYS if "scan_sha256" in item else MEDIA_KEYS
            if item.keys() != keys:
                _refuse_keys(kind, where, item, keys)
            reasons = (
                ("length", length_check(item["length"])),
                ("name", name_check(item["name"])),
                ("sha256", shapes.hash64(item["sha256"])),
                ("scan_sha256", shapes.hash64(item["scan_sha256"]) if "scan_sha256" in item else None),
                ("type", type_check(item["type"])),
            )
            for name, reason in reasons:
                if reason:
                    raise _refusal(kind, "bad_value", f"{where}.{name}", reason)
            if item["role"] != rule.role:
                raise _refusal(kind, "media", f"{where}.role", say("trade.record.wrong.not_role", role=rule.role))
            if not item["type"].startswith(rule.types):
                raise _refusal(kind, "media", f"{where}.type", say("trade.record.wrong.media_type", type=item["type"]))

    return check


_boot = re.compile(r"[0-9a-f]{8}").fullmatch
_clock_whole = shapes.whole(0)
_clock_offset = shapes.nothing_or(shapes.whole(-shapes.LARGEST_WHOLE))
_clock_age = shapes.nothing_or(shapes.whole(0))
_zone = shapes.text(LIMITS["zone"])


def _clock(value: Any) -> str | None:
    if type(value) is not dict or value.keys() != CLOCK_KEYS:
        return say("trade.record.wrong.clock_fields")
    if type(value["boot"]) is not str or not _boot(value["boot"]):
        return say("trade.record.wrong.boot")
    for name, check in (("monotonic_ms", _clock_whole), ("offset_ms", _clock_offset), ("offset_age_s", _clock_age)):
        if reason := check(value[name]):
            return say("trade.record.wrong.has", name=name, reason=reason)
    return (reason := _zone(value["zone"])) and say("trade.record.wrong.zone", reason=reason)


_from_one = shapes.whole(1)


def _links(value: Any, in_a_job: bool) -> str | None:
    if type(value) is not dict or value.keys() != LINK_KEYS:
        return say("trade.record.wrong.link_fields")
    job, log = value["job"], value["log"]
    if (job is not None) != in_a_job:
        return say("trade.record.wrong.link_job")
    if job is not None:
        if type(job) is not dict or job.keys() != JOB_LINK_KEYS:
            return say("trade.record.wrong.link_fields")
        for name, check in (("number", _from_one), ("previous", shapes.hash64)):
            if reason := check(job[name]):
                return say("trade.record.wrong.has", name=name, reason=reason)
        if (job["number"] == 1) != (job["previous"] == shapes.ZERO_HASH):
            return say("trade.record.wrong.has", name="previous", reason=say("trade.record.wrong.previous"))
    if log is not None:
        if type(log) is not dict or log.keys() != LOG_LINK_KEYS:
            return say("trade.record.wrong.link_fields")
        for name, check in (("root", shapes.hash64), ("size", _from_one)):
            if reason := check(log[name]):
                return say("trade.record.wrong.has", name=name, reason=reason)
    return None


_ENVELOPE: tuple[tuple[str, shapes.Check], ...] = (
    ("id", shapes.uuid7),
    ("workshop", shapes.uuid),
    ("device", shapes.uuid),
    ("author", shapes.uuid),
    ("job", shapes.nothing_or(shapes.uuid)),
    ("sequence", shapes.whole(1)),
    ("previous", shapes.hash64),
    ("claimed", shapes.time),
    ("clock", _clock),
    ("location", shapes.location),
    ("stage", shapes.nothing_or(_stage)),
)

_CHECKS = {
    (kind.name, number): (kind, _body_check(kind, version), _media_check(kind, media_rule(version)))
    for kind in KINDS.values()
    for number, version in kind.versions.items()
}


def _refusal(kind: Kind | None, code: str, where: str, reason: str) -> Refusal:
    thing = kind.words if kind else say("trade.record.entry")
    return Refusal(code, where, say("trade.record.not_accepted", kind=thing, field=where, reason=reason))


def _refuse_keys(kind: Kind | None, where: str, given: Mapping[str, Any], wanted: frozenset[str]) -> None:
    unknown = sorted(str(name) for name in given.keys() - wanted)
    if unknown:
        raise _refusal(
            kind, "unknown_field", f"{where}.{unknown[0]}".lstrip("."), say("trade.record.wrong.unknown_field")
        )
    missing = sorted(wanted - given.keys())
    raise _refusal(kind, "missing_field", f"{where}.{missing[0]}".lstrip("."), say("trade.record.wrong.missing"))


def check_entry(entry: Any) -> None:
    """Returns when `entry` (parsed, as the device made it) is shaped as its kind and version ask; else raises Refusal.

    It looks at the entry alone: signature, chain, job, people and the engine's places are others' to check.
    """
    if type(entry) is not dict:
        raise _refusal(None, "bad_value", "entry", say("trade.record.wrong.not_object"))
    keys = LINKED_KEYS if "links" in entry else ENTRY_KEYS
    if entry.keys() != keys:
        _refuse_keys(None, "", entry, keys)
    name, number = entry["kind"], entry["version"]
    if type(name) is not str or name not in KINDS:
        raise _refusal(None, "unknown_kind", "kind", say("trade.record.wrong.unknown_here", shown=repr(name)))
    if type(number) is not int or (name, number) not in _CHECKS:
        raise _refusal(
            KINDS[name], "unknown_version", "version", say("trade.record.wrong.unknown_here", shown=repr(number))
        )
    kind, check_body, check_media = _CHECKS[name, number]
    for field, check in _ENVELOPE:
        if reason := check(entry[field]):
            raise _refusal(kind, "bad_value", field, reason)
    if (entry["sequence"] == 1) != (entry["previous"] == shapes.ZERO_HASH):
        raise _refusal(kind, "bad_value", "previous", say("trade.record.wrong.previous"))
    if entry["job"] is None:
        if kind.job == "needed":
            raise _refusal(kind, "needs_job", "job", say("trade.record.wrong.needs_job"))
    elif kind.job == "none":
        raise _refusal(kind, "needs_no_job", "job", say("trade.record.wrong.needs_no_job"))
    if entry["location"] is not None and not kind.may_have_location:
        raise _refusal(kind, "location", "location", say("trade.record.wrong.location"))
    if "links" in entry and (reason := _links(entry["links"], entry["job"] is not None)):
        raise _refusal(kind, "bad_value", "links", reason)
    check_body(entry["body"])
    check_media(entry["media"])
