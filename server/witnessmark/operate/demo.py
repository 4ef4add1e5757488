"""Makes the invented workshop: by the same functions as a real one, only with its clock set back."""

from __future__ import annotations

import json
import shutil
import uuid
from datetime import datetime, timedelta
from pathlib import Path

from PIL import Image
from sqlalchemy import Engine

from witnessmark.config import Settings, sample_media_folder
from witnessmark.db import clock_set_back, make_engine, reading, writing
from witnessmark.media.store import adopt
from witnessmark.operate.demo_measuring import Measuring, one_by_one
from witnessmark.operate.demo_phone import DemoPhone
from witnessmark.operate.demo_speaking import Speaking, sound_body, sound_first
from witnessmark.operate.demo_tightening import Tightening, tap_by_tap
from witnessmark.people import devices, invitations, persons
from witnessmark.people.workshops import Workshop
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.sync import desk
from witnessmark.sync.founding import found_workshop
from witnessmark.sync.join import join, statement
from witnessmark.sync.receive import Push, receive
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.record.kinds import KINDS

RECEIVED_AFTER = timedelta(minutes=4)
ONLINE_EVERY = timedelta(minutes=10)
MARK = "DEMO.txt"
TYPES = {".jpg": "image/jpeg", ".wav": "audio/wav", ".webm": "audio/webm;codecs=opus"}
NOTE = say("server.demo.invented")


def make_demo(settings: Settings) -> None:
    """Fills an empty data folder with the invented workshop. Leaves nothing half made: a failure empties the folder."""
    try:
        _Making(settings).run()
    except BaseException:
        shutil.rmtree(settings.data, ignore_errors=True)
        raise


class _Making:
    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self.folder = sample_media_folder()
        self.story = json.loads((self.folder / "story.json").read_text())
        self.now = datetime.now().astimezone().replace(microsecond=0)
        self.people: dict[str, str] = {}
        self.phones: dict[str, DemoPhone] = {}
        self.engine_types = {
            engine_type["name"]: engine_type for engine_type in table("invented_engine_types")["engine_types"]
        }
        self.referred: dict[str, dict] = {}
        self.measuring = Measuring(self.folder / "measuring.json", self.engine_types, self.moment, self.now)
        self.tightening = Tightening(self.folder / "tightening.json", self.engine_types, self.moment, self.now)
        self.speaking = Speaking(self.folder / "speaking.json", self.moment)

    def run(self) -> None:
        begun = min(self.moment(job["at"]) for job in self.story["jobs"]) - timedelta(days=1)
        with self.as_of(begun):
            workshop = self.create_workshop()
            engine = make_engine(self.settings.database)
            try:
                self.furnish(engine, workshop)
                for job in self.story["jobs"]:
                    self.record_job(engine, job)
            finally:
                engine.dispose()

    def as_of(self, moment: datetime):
        return clock_set_back((datetime.now().astimezone() - moment).total_seconds())

    def moment(self, at: str) -> datetime:
        """`-2 10:38:07` is 10:38:07 two days ago; never later than now."""
        days, time_of_day = at.split(" ")
        hours, minutes, seconds = (int(part) for part in time_of_day.split(":"))
        day = self.now + timedelta(days=int(days))
        return min(day.replace(hour=hours, minute=minutes, second=seconds), self.now - timedelta(minutes=5))

    def create_workshop(self) -> Workshop:
        manager, *others = self.story["people"]
        workshop, person = found_workshop(self.settings, self.story["workshop"], manager["name"], manager["password"])
        self.people[manager["name"]] = person.id
        engine = make_engine(self.settings.database)
        try:
            with writing(engine) as conn:
                persons.change(conn, workshop.id, person.id, pin=manager["pin"])
                for invented in others:
                    details = (invented[name] for name in ("name", "role", "password", "pin"))
                    self.people[invented["name"]] = persons.add(conn, workshop.id, *details).id
        finally:
            engine.dispose()
        return workshop

    def furnish(self, engine: Engine, workshop: Workshop) -> None:
        manager = next(iter(self.people.values()))
        with writing(engine) as conn:
            for engine_type in self.engine_types.values():
                desk.write(conn, self.settings, manager, "engine_type_described", body={"engine_type": engine_type})
        for described in self.story["phones"]:
            phone = DemoPhone()
            with writing(engine) as conn:
                invitation = invitations.invite(conn, workshop.id, manager, 10**9)
            request = {"code": invitation.code, "name": described["name"], "public_key": phone.public_key}
            request["platform"] = "demo"
            proof = phone.sign(statement(**request))
            joined = join(engine, self.settings, **request, proof=proof, address="127.0.0.1")
            phone.workshop, phone.device = workshop.id, joined["device"]["id"]
            self.phones[joined["device"]["letter"]] = phone

    def record_job(self, engine: Engine, job: dict) -> None:
        """Pushes the entries of one job in the order of the story, phone by phone in turn."""
        job_id, stage = str(uuid.uuid4()), job["stage"]
        facts = {"earlier_job": "", **job["opened"]}
        facts["engine_type"] = self.engine_types[facts["engine_type"]]["id"]
        spoken_steps = sound_first(tap_by_tap(one_by_one(job["entries"])))
        steps = [{"at": job["at"], "kind": "job_opened", "body": facts}, *spoken_steps]
        waiting: list[tuple[DemoPhone, dict, datetime]] = []
        for step in steps:
            stage = step.get("stage", stage)
            letter, who = step.get("phone", job["phone"]), step.get("who", job["who"])
            at = self.moment(step["at"]) + timedelta(seconds=step.get("after", 0))
            phone, media = self.phones[letter], []
            # A phone reaches the server now and then, not after every record; another phone's turn ends its own.
            if waiting and (waiting[0][0] is not phone or at - waiting[0][2] > ONLINE_EVERY):
                self.push(engine, waiting)
            self.say(engine, at)
            body = self.body(step, stage, facts["engine_type"])
            if "file" in step:
                media = [self.media(engine, step["file"], step["kind"])]
            if "sound" in step:
                body |= self.speaking.spoken(step, self.referred[step["sound"]["file"]]["id"])
            point = self.measuring.point(step) if step.get("reading") else step.get("point", "")
            location = {"place": step["place"], "point": point} if "place" in step else None
            if step["kind"].startswith("entry_"):
                location = None
            entry, wire = phone.make(at, self.people[who], step["kind"], job_id, stage, location, body, media)
            if "ref" in step:
                self.referred[step["ref"]] = entry
            waiting.append((phone, wire, at))
        self.push(engine, waiting)

    def say(self, engine: Engine, until: datetime) -> None:
        """Writes at the desk what the manager had stated about gauges, limits, tools, sheets and words by then."""
        manager = next(iter(self.people.values()))
        for source in (self.measuring, self.tightening, self.speaking):
            for at, bodies in source.due(until):
                with self.as_of(at), writing(engine) as conn:
                    rows = [desk.write(conn, self.settings, manager, kind, body=body) for kind, body in bodies]
                source.note(rows)

    def push(self, engine: Engine, waiting: list[tuple[DemoPhone, dict, datetime]]) -> None:
        """Sends what waits on one phone, and empties the list."""
        phone, _, last = waiting[-1]
        wires = [wire for _, wire, _ in waiting]
        waiting.clear()
        with self.as_of(last + RECEIVED_AFTER):
            with reading(engine) as conn:
                device = devices.get(conn, phone.workshop, phone.device)
            push = Push(wires, (last + RECEIVED_AFTER).isoformat(), phone.announced)
            answer = receive(engine, self.settings, device, push)
        phone.log = {"root": answer.head.root, "size": answer.head.size}
        for result, wire in zip(answer.results, wires, strict=True):
            if result["result"] != "stored":
                raise RuntimeError(f"The demo's story was refused: {result['message']} {wire['bytes']}")

    def body(self, step: dict, stage: str, engine_type: str) -> dict:
        kind = step["kind"]
        if kind == "measured":
            return self.measuring.body(step, engine_type)
        if kind == "sound_recorded":
            return sound_body(step)
        if kind == "transcript_confirmed":
            meant = self.referred[step["confirms"]]
            about = {"entry": meant["id"], "entry_hash": sha256_hex(canonical(meant))}
            return about | {"text": step["text"], "remark": step.get("remark", "")}
        if "run" in step and kind != "entry_withdrawn":
            return self.tightening.body(step, engine_type)
        if kind in ("entry_corrected", "entry_withdrawn"):
            meant = self.referred[step["corrects"]]
            body = {"entry": meant["id"], "entry_hash": sha256_hex(canonical(meant)), "reason": step["reason"]}
            if kind == "entry_corrected":
                place = {"place": step["place"], "point": ""} if "place" in step else None
                body |= {"changes": step.get("changes", {}), "location": place}
            return body
        if kind == "stage_reached":
            return {"stage": stage}
        if kind == "checklist_ticked":
            return {"stage": stage, "item": step["item"], "ticked": True, "note": ""}
        if kind == "photo_taken":
            with Image.open(self.folder / "pictures" / step["file"]) as picture:
                width, height = picture.size
            return {
                "method": "camera", "width": width, "height": height, "sharpness": None, "exposure": "ok",
                "caption": step.get("caption", ""), "file_time": None,
            }  # fmt: skip
        given = {
            "job_opened": ("body",),
            "note_made": ("text",),
            "measured": tuple(KINDS["measured"].fields),
            "fastener_tightened": tuple(KINDS["fastener_tightened"].fields),
            "finding_made": tuple(KINDS["finding_made"].fields),
        }[kind]
        if kind == "measured":
            # A single reading outside any procedure, unless the story says more.
            usual = {"edition": 0, "state": "as_found", "basis": []}
            return {name: step.get(name, usual.get(name, "")) for name in given}
        if kind == "fastener_tightened":
            # Outside a run: nobody was led.
            return {name: step.get(name, {"given": "typed", "basis": []}.get(name, "")) for name in given}
        return step["body"] if kind == "job_opened" else {name: step.get(name, "") for name in given}

    def media(self, engine: Engine, name: str, kind: str) -> dict:
        path: Path = self.folder / ("pictures" if kind == "photo_taken" else "sounds") / name
        with writing(engine) as conn:
            sha256, length = adopt(self.settings, conn, path)
        role = "original" if kind == "photo_taken" else "audio"
        return {"length": length, "name": name, "role": role, "sha256": sha256, "type": TYPES[path.suffix]}


def open_demo(settings: Settings, reset: bool) -> None:
    """Makes the demo unless it is there already; `reset` throws the old one away first.

    Raises Refusal rather than throw away a folder that is not a demo's.
    """
    mark = settings.data / MARK
    held = settings.data.exists() and any(settings.data.iterdir())
    if held and not mark.exists():
        raise Refusal("not_a_demo", "data", say("server.demo.not_a_demo", folder=settings.data))
    if held and reset:
        shutil.rmtree(settings.data)
        held = False
    if not held:
        make_demo(settings)
        mark.write_text(say("server.demo.mark", note=NOTE) + "\n")


def sign_ins() -> list[str]:
    """The invented people and their passwords, as lines for the terminal."""
    story = json.loads((sample_media_folder() / "story.json").read_text())
    return [
        say("server.demo.sign_in", **{name: person[name] for name in ("name", "role", "password", "pin")})
        for person in story["people"]
    ]
