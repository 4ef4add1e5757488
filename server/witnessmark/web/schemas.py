"""The shapes of the office's questions and answers. Unknown fields are refused on the way in."""

from __future__ import annotations

from datetime import date

from marshmallow import Schema, ValidationError, fields, validate

from witnessmark.trade.engine.stages import STAGES
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.record.kinds import written_by
from witnessmark.web.common_schemas import AsRecorded, IdAndName
from witnessmark.web.engine_schemas import EngineType
from witnessmark.web.spoken_schemas import SpokenNote

SHA256 = validate.Regexp(r"[0-9a-f]{64}\Z", error=say("server.sync.not_sha256"))
ROLES = validate.OneOf(["technician", "manager"])
PACK_SORTS = validate.OneOf(["sealed", "customer"])
MEDIA_ROLES = validate.OneOf(["original", "audio", "document"])


def a_day(text: str) -> None:
    """Raises ValidationError unless it is a day of the calendar."""
    try:
        date.fromisoformat(text)
    except ValueError:
        raise ValidationError(say("server.sync.not_a_day")) from None


LIMIT = validate.Range(1, 200)
CURSOR = validate.Range(0, 2**40 - 1)  # positions and exhibits; beyond begin the rows of another workshop


class JobName(Schema):
    id = fields.String(required=True)
    number = fields.String(required=True)
    vehicle = fields.String(required=True)


class MediaShown(Schema):
    sha256 = fields.String(required=True)
    type = fields.String(required=True)
    length = fields.Integer(required=True)
    role = fields.String(required=True, validate=MEDIA_ROLES)
    name = fields.String(required=True)
    here = fields.Boolean(required=True, metadata={"description": "the original has arrived"})
    preview = fields.Boolean(required=True, metadata={"description": "a small picture can be had"})


class Correction(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True, allow_none=True)
    by = fields.Nested(IdAndName, required=True)
    reason = fields.String(required=True)
    changes = fields.Dict(keys=fields.String(), values=fields.Raw(), required=True)
    withdrawn = fields.Boolean(required=True, metadata={"description": "the correction itself was withdrawn"})


class Withdrawal(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True, allow_none=True)
    by = fields.Nested(IdAndName, required=True)
    reason = fields.String(required=True)


class Corrected(Schema):
    id = fields.String(required=True)
    exhibit = fields.Integer(required=True)


class Item(Schema):
    exhibit = fields.Integer(required=True, allow_none=True)
    position = fields.Integer(required=True)
    id = fields.String(required=True)
    hash = fields.String(required=True)
    job = fields.Nested(JobName, required=True, allow_none=True)
    kind = fields.String(required=True)
    title = fields.String(required=True)
    text = fields.String(required=True)
    stage = fields.String(required=True, allow_none=True)
    claimed = fields.String(required=True, metadata={"description": "time as the device claims it"})
    received = fields.String(required=True, metadata={"description": "time of receipt by the server, UTC"})
    attested = fields.String(required=True, allow_none=True)
    offset_ms = fields.Integer(required=True, allow_none=True, metadata={"description": "server minus device clock"})
    late_s = fields.Integer(required=True, metadata={"description": "seconds from claimed time to receipt, 0 if < 60"})
    author = fields.Nested(IdAndName, required=True)
    device = fields.Nested(IdAndName, required=True)
    place = fields.String(required=True)
    place_name = fields.String(required=True)
    point = fields.String(required=True)
    media = fields.List(fields.Nested(MediaShown), required=True)
    body = fields.Dict(keys=fields.String(), values=fields.Raw(), required=True)
    corrected_by = fields.List(fields.Nested(Correction), required=True)
    corrects = fields.Nested(Corrected, required=True, allow_none=True)
    withdrawn = fields.Nested(Withdrawal, required=True, allow_none=True)
    spoken = fields.Nested(SpokenNote, required=True, allow_none=True)


class Entry(Item):
    bytes = fields.String(required=True, metadata={"description": "the entry, canonical JSON, as signed"})
    signature = fields.String(required=True)
    stamp = fields.String(required=True, metadata={"description": "what the server added, canonical JSON"})
    previous = fields.String(required=True)
    sequence = fields.Integer(required=True)


class TimelinePage(Schema):
    items = fields.List(fields.Nested(Item), required=True)
    next = fields.Integer(required=True, allow_none=True, metadata={"description": "exhibit to ask `after`"})
    previous = fields.Integer(required=True, allow_none=True, metadata={"description": "exhibit to ask `before`"})
    total = fields.Integer(required=True, allow_none=True, metadata={"description": "null: more than 1000"})
    also = fields.List(fields.String(), required=True, metadata={"description": "other words that were looked for"})


class LiveAnswer(Schema):
    position = fields.Integer(required=True)
    items = fields.List(fields.Nested(Item), required=True)


class FilterQuery(Schema):
    place = fields.String(metadata={"description": "place code; takes all it holds; several with commas"})
    related = fields.Boolean(load_default=False, metadata={"description": "related places as well"})
    kind = fields.String(metadata={"description": "kinds of record, several with commas"})
    person = fields.String(metadata={"description": "person ids, several with commas"})
    stage = fields.String(metadata={"description": "stages, several with commas"})
    since = fields.String(data_key="from", validate=a_day, metadata={"description": "first day, as claimed"})
    until = fields.String(data_key="to", validate=a_day, metadata={"description": "last day, as claimed"})
    q = fields.String(load_default="", validate=validate.Length(max=200))
    after = fields.Integer(validate=CURSOR)
    before = fields.Integer(validate=CURSOR)
    limit = fields.Integer(load_default=50, validate=LIMIT)


class TimelineQuery(FilterQuery):
    around = fields.Integer(validate=CURSOR)


class LiveQuery(Schema):
    job = fields.String(load_default="")
    after = fields.Integer(load_default=None, allow_none=True, validate=CURSOR)


class JobsQuery(Schema):
    q = fields.String(load_default="", validate=validate.Length(max=200))
    stage = fields.String(load_default="", validate=validate.OneOf(["", *(stage["code"] for stage in STAGES)]))
    before = fields.Integer(validate=CURSOR)
    limit = fields.Integer(load_default=50, validate=LIMIT)


class JobLine(Schema):
    id = fields.String(required=True)
    number = fields.String(required=True)
    vehicle = fields.String(required=True)
    registration = fields.String(required=True)
    engine_type = fields.String(required=True)
    engine_type_name = fields.String(required=True)
    engine_number = fields.String(required=True)
    stage = fields.String(required=True)
    complaint = fields.String(required=True)
    entries = fields.Integer(required=True)
    pictures = fields.Integer(required=True)
    missing_media = fields.Integer(required=True)
    opened = fields.String(required=True, allow_none=True)
    last = fields.String(required=True)
    earlier_visits = fields.Integer(required=True)


class Jobs(Schema):
    jobs = fields.List(fields.Nested(JobLine), required=True)
    next = fields.Integer(required=True, allow_none=True)


class Counted(IdAndName):
    entries = fields.Integer(required=True)


class DeviceOfJob(IdAndName):
    clock_offset_ms = fields.Integer(required=True, allow_none=True)


class StageShown(Schema):
    code = fields.String(required=True)
    name = fields.String(required=True)
    entries = fields.Integer(required=True)


class ChecklistItem(Schema):
    stage = fields.String(required=True)
    item = fields.String(required=True)
    words = fields.String(required=True)
    ticked = fields.Boolean(required=True)
    note = fields.String(required=True)
    by = fields.String(required=True)
    when = fields.String(required=True, allow_none=True)


class Visit(Schema):
    job = fields.String(required=True)
    number = fields.String(required=True)
    opened = fields.String(required=True, allow_none=True)
    distance = fields.String(required=True)
    distance_unit = fields.String(required=True)
    complaint = fields.String(required=True)


class Job(JobLine):
    distance = fields.String(required=True)
    distance_unit = fields.String(required=True)
    received_as = fields.String(required=True)
    earlier_job = fields.String(required=True)
    engine_type_data = AsRecorded(EngineType, required=True, allow_none=True)
    people = fields.List(fields.Nested(Counted), required=True)
    devices = fields.List(fields.Nested(DeviceOfJob), required=True)
    kinds = fields.Dict(keys=fields.String(), values=fields.Integer(), required=True)
    stages = fields.List(fields.Nested(StageShown), required=True)
    tallies = fields.Dict(keys=fields.String(), values=fields.Integer(), required=True)
    checklist = fields.List(fields.Nested(ChecklistItem), required=True)
    visits = fields.List(fields.Nested(Visit), required=True)


class Place(Schema):
    place = fields.String(required=True, validate=validate.Length(1, 80))
    point = fields.String(load_default="", validate=validate.Length(max=80))


class MediaNamed(Schema):
    sha256 = fields.String(required=True, validate=SHA256)
    length = fields.Integer(required=True, validate=validate.Range(1))
    type = fields.String(required=True, validate=validate.Length(max=100))
    name = fields.String(required=True, validate=validate.Length(max=255))
    role = fields.String(required=True, validate=MEDIA_ROLES)


class DeskEntry(Schema):
    id = fields.UUID(load_default=None, metadata={"description": "version 7; the same id again is the same record"})
    job = fields.UUID(
        required=True, allow_none=True, metadata={"description": "null: a job is opened, or it is the workshop's"}
    )
    kind = fields.String(required=True, validate=validate.OneOf(sorted(written_by("desk"))))
    location = fields.Nested(Place, load_default=None, allow_none=True)
    body = fields.Dict(keys=fields.String(), values=fields.Raw(allow_none=True), required=True)
    media = fields.List(fields.Nested(MediaNamed), load_default=list)


class SignIn(Schema):
    name = fields.String(required=True, validate=validate.Length(1, 200))
    password = fields.String(required=True, validate=validate.Length(1, 1000), load_only=True)


class Person(IdAndName):
    role = fields.String(required=True, validate=ROLES)
    active = fields.Boolean(required=True)
    has_password = fields.Boolean(required=True)
    has_pin = fields.Function(lambda person: person.pin is not None, required=True, metadata={"type": "boolean"})


class People(Schema):
    people = fields.List(fields.Nested(Person), required=True)


class NewPerson(Schema):
    name = fields.String(required=True, validate=validate.Length(1, 200))
    role = fields.String(required=True, validate=ROLES)
    password = fields.String(load_default="", load_only=True, validate=validate.Length(max=1000))
    pin = fields.String(load_default="", load_only=True, validate=validate.Length(max=20))


class PersonChanges(Schema):
    name = fields.String(validate=validate.Length(1, 200))
    role = fields.String(validate=ROLES)
    active = fields.Boolean()
    password = fields.String(load_only=True, validate=validate.Length(1, 1000))
    old_password = fields.String(
        load_only=True,
        validate=validate.Length(max=1000),
        metadata={"description": "the present one, to change one's own"},
    )
    pin = fields.String(load_only=True, validate=validate.Length(max=20))


class SignedIn(Schema):
    person = fields.Nested(Person, required=True)


class LogHead(Schema):
    size = fields.Integer(required=True)
    root = fields.String(required=True)
    time = fields.String(required=True)


class Me(Schema):
    person = fields.Nested(Person, required=True)
    workshop = fields.Nested(IdAndName, required=True)
    server = fields.String(required=True)
    epoch = fields.String(required=True)
    head = fields.Nested(LogHead, required=True, allow_none=True)
    demo = fields.Boolean(required=True)


class Door(Schema):
    workshop = fields.String(required=True)
    demo = fields.Boolean(required=True)


class OwnerGiven(Schema):
    name = fields.String(load_default="")
    phone = fields.String(load_default="")
    mail = fields.String(load_default="")


class Owner(Schema):
    name = fields.String(required=True)
    phone = fields.String(required=True)
    mail = fields.String(required=True)


class PhoneListed(IdAndName):
    letter = fields.String(required=True)
    platform = fields.String(required=True)
    enrolled = fields.String(required=True)
    last_seen = fields.String(required=True, allow_none=True)
    announced = fields.Integer(required=True, metadata={"description": "highest number the phone ever spoke of"})
    received = fields.Integer(required=True, metadata={"description": "highest number accounted for here"})
    clock_offset_ms = fields.Integer(required=True, allow_none=True)
    revoked = fields.String(required=True, allow_none=True, metadata={"description": "when it was blocked"})
    revoked_reason = fields.String(required=True)


class Phones(Schema):
    phones = fields.List(fields.Nested(PhoneListed), required=True)


class Invitation(Schema):
    code = fields.String(required=True)
    url = fields.String(required=True)
    qr_svg = fields.String(required=True)
    expires = fields.String(required=True)


class Revocation(Schema):
    reason = fields.String(load_default="", validate=validate.Length(max=500))


class PackRequest(Schema):
    sort = fields.String(required=True, validate=PACK_SORTS)


class Pack(Schema):
    id = fields.String(required=True)
    job = fields.String(required=True)
    sort = fields.String(required=True, validate=PACK_SORTS)
    state = fields.String(required=True, validate=validate.OneOf(["waiting", "working", "ready", "failed"]))
    done = fields.Integer(required=True)
    total = fields.Integer(required=True)
    words = fields.String(required=True)
    size = fields.Integer(required=True, allow_none=True)
    sha256 = fields.String(required=True, allow_none=True)
    name = fields.String(required=True)
    created = fields.String(required=True)


class PackStarted(Schema):
    pack = fields.Nested(Pack, required=True)


class Packs(Schema):
    packs = fields.List(fields.Nested(Pack), required=True)
