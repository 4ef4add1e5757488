"""A small job with everything a pack may hold, and the two sorts of pack cut from it, once for all tests."""

from __future__ import annotations

import hashlib
import io
import shutil
import struct
import wave
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest
from PIL import Image
from PIL.TiffImagePlugin import IFDRational

from tests.support import measured, record
from tests.support import tightening as joints
from tests.support.phone import Phone
from tests.support.workshop import Office
from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import db, reading, writing
from witnessmark.media.store import adopt
from witnessmark.pack.build import Built, build
from witnessmark.people import persons
from witnessmark.sync import desk
from witnessmark.trade.record.kinds import TYPED

# What the workshop's own pictures and sounds say of place, device and owner. None of it may reach a customer.
SEEDS = (b"SEED-PLACE", b"SEED-COMMENT", b"SEED-MAKER", b"SEED-SERIAL", b"SEED-FILM", b"SEED-SOUND")


@dataclass
class Packed:
    """The job, its office and its two packs. `files` reads a pack: path within its folder -> bytes."""

    office: Office
    job: str
    sealed: Built
    customer: Built
    originals: dict[str, bytes]

    def cut(self, sort: str, out: Path) -> Built:
        out.mkdir(exist_ok=True)
        with reading(self.office.engine) as conn:
            return build(conn, self.office.settings, self.job, sort, out)


def files_of(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name.split("/", 1)[1]: archive.read(name) for name in archive.namelist()}


def a_photograph(shade: int) -> bytes:
    """A small phone photograph with place, comment, maker note, serial number and a film behind it."""
    file, exif = io.BytesIO(), Image.Exif()
    exif[0x0112] = 6
    exif[0x8825] = {1: "N", 2: (IFDRational(54), IFDRational(58), IFDRational(12)), 0x1D: "SEED-PLACE"}
    exif[0x8769] = {0x927C: b"SEED-MAKER" * 4, 0xA431: "SEED-SERIAL"}
    picture = Image.linear_gradient("L").resize((96, 72)).convert("RGB")
    picture.paste((60 * shade, 10, 200), (8, 8, 40, 40))
    picture.save(file, "JPEG", quality=90, exif=exif, comment="SEED-COMMENT")
    return file.getvalue() + b"\0\0\0\x18ftypmp42SEED-FILM"


def a_sound() -> bytes:
    """A short spoken note as WAV, with words about it behind the sound."""
    file = io.BytesIO()
    with wave.open(file, "wb") as sound:
        sound.setparams((1, 2, 8000, 0, "NONE", ""))
        sound.writeframes(bytes(range(200)) * 8)
    data = file.getvalue() + b"LIST" + struct.pack("<I", 10) + b"SEED-SOUND"
    return data[:4] + struct.pack("<I", len(data) - 8) + data[8:]


@pytest.fixture(scope="session")
def packed(founded_once, tmp_path_factory):
    """Cut once; tests that break a pack break a copy of it."""
    folder, workshop, manager = founded_once
    home = tmp_path_factory.mktemp("packed")
    shutil.copytree(folder, home / "data")
    settings = Settings(home / "data", secure_cookies=False)
    office = Office(settings, workshop, manager, create_app(settings))
    job, originals = record_the_job(office)
    bench = Packed(office, job, None, None, originals)
    bench.sealed, bench.customer = bench.cut("sealed", home / "out"), bench.cut("customer", home / "out")
    yield bench
    with office.app.app_context():
        db.engine.dispose()


def record_the_job(office: Office) -> tuple[str, dict[str, bytes]]:
    """Records the job from two phones and the desk; returns it and its originals by name."""
    with writing(office.engine) as conn:
        described = {"engine_type": record.a_v6()}
        desk.write(conn, office.settings, office.manager.id, "engine_type_described", body=described)
    phone, other = office.phone("bay 1"), office.phone("bay 2")
    job = phone.open_job("24/118 <b>", engine_type=record.ENGINE_TYPE_ID)
    another = other.open_job("24/119", engine_type=record.ENGINE_TYPE_ID)
    # Three that differ, or swapping them would change nothing.
    photographs = {f"IMG_{shade}.jpg": a_photograph(shade) for shade in (1, 2, 3)}
    first, second, third = photographs.values()
    moved = record.photograph(phone, job, "main/2", first)
    phone.note(another, "A record of the next bench.")
    record.photograph(phone, job, "bore/3", second)
    slip = record.measure(phone, job, "bore/3", "89.22")
    record.correct(phone, slip, {"value": "89.022"}, reason="Slip of the thumb.")
    record.correct(phone, moved, {}, record.at("main/4"), "Wrong cap in hand.")
    record.finding(phone, job, "bore/3", "Eleven scores on the thrust side. Ölfilm fehlt; 清洗前 \N{WRENCH}.")
    gone = record.keep(phone, phone.entry("note_made", job, body={"text": "Pin scuffed."}))
    record.withdraw(phone, gone, "Belongs to another engine.")
    record.photograph(phone, job, "bore/1", b"never sent in")
    send_sound(phone, job)
    read = measure_by_procedures(office, phone, job)
    tighten(office, phone, job, another)
    record.send(phone)
    with writing(office.engine) as conn:
        # Set anew after it was measured: both verdicts are shown.
        changed = {"limit": measured.a_limit(high="0.060", source="Invented manual, edition 3, page 15")}
        desk.write(conn, office.settings, office.manager.id, "limit_set", body=changed)
    record.withdraw(phone, read[-1], "Read on the wrong pin.")
    record.send(phone)
    record.photograph(other, job, "bore/5", third, older_app=True)
    record.send(other)
    originals = photographs | {
        "note.wav": a_sound(),
        "test.pdf": b"%PDF-1.7 a crack test, by its maker",
        "p.heic": HEIC,
    }
    with writing(office.engine) as conn:
        for data in originals.values():
            adopt(office.settings, conn, data)
        for name, role, kind, body in DOCUMENTS:
            media = [named(originals[name], name, role)]
            desk.write(conn, office.settings, office.manager.id, kind, job=job, body=body, media=media)
    return job, originals


def measure_by_procedures(office: Office, phone: Phone, job: str) -> list[dict]:
    """Reads two bores and a crankpin with gauges of the register, one of them overdue, by what the workshop said."""
    late = measured.a_gauge(due="2020-02-03", calibrated="2019-02-03")
    micrometer = {"id": "0b4c1a52-5f1e-4c57-9b0a-3a6d2f7e9c12", "name": "Micrometer 2", "sort": "external_micrometer"}
    unused = {"id": "1c5d2b63-6a2f-4d68-8c1b-4b7e3a8f0d23", "procedure": "main_journal"}
    statements = [
        ("gauge_described", {"gauge": late}),
        ("gauge_described", {"gauge": measured.a_gauge(**micrometer)}),
        ("measuring_rules_set", {"rules": measured.some_rules()}),
        ("limit_set", {"limit": measured.a_limit(high="0.045")}),
        ("size_set", {"size": measured.a_size()}),
        ("size_set", {"size": measured.a_size(**STEPS)}),
        ("limit_set", {"limit": measured.a_limit(**unused)}),
    ]
    with writing(office.engine) as conn:
        rows = [desk.write(conn, office.settings, office.manager.id, kind, body=body) for kind, body in statements]
    gauge, other, rules, limit, size, steps, _ = (row.entry["id"] for row in rows)
    by = {"gauge": late["name"], "gauge_id": late["id"], "basis": [gauge, rules, limit, size, steps]}
    measured.read_bore(phone, job, "bore/3", **by)
    measured.read_bore(phone, job, "bore/4", measured.BORE | {"top/thrust": "89.090"}, **by)
    pin = {"gauge": "Micrometer 2", "gauge_id": micrometer["id"], "basis": [other, rules], "procedure": "crankpin"}
    values = {"front/0": "53.982", "front/90": "53.976", "rear/0": "53.981", "rear/90": "53.975"}
    measured.read_bore(phone, job, "crankpin/2", values, **pin)
    bearing = {"quantity": "diameter", "procedure": "rod_clearance", "gauge": late["name"], "gauge_id": late["id"]}
    measured.read(phone, job, "rod_bearing/3", "housing", "54.030", **bearing)
    return [measured.read(phone, job, "crankpin/3", "front/0", "53.1", **pin)]


def tighten(office: Office, phone: Phone, job: str, another: str) -> None:
    """Tightens one head with every sort of answer, begins the other with stretch bolts used before, lets one go. The
    wrench is past its cycles by what it did on another job."""
    elsewhere = {"id": "3e7f4d85-8c41-4f8a-8e3d-6d905ca12f99", "name": "Heads of no job"}
    holds = [
        {"sort": "measured", "procedure": "cylinder_bore", "figure": "ovality", "where": ["bore/4"]},
        {"sort": "ticked", "stage": "build", "item": "which_way"},
    ]
    sheet = joints.a_sheet(bolt="stretch", uses_most=1, two_people=True, holds=holds)
    late = joints.a_tool(due="2020-01-01", calibrated="2019-01-01", cycles_most=6)
    unused = joints.a_tool(id="4f805e96-9d52-409b-9f4e-7ea16db23099", name="Wrench of no job")
    with writing(office.engine) as conn:
        entries = [
            desk.write(conn, office.settings, office.manager.id, kind, body=body)
            for kind, body in (
                ("tightening_sheet_described", {"sheet": sheet}),
                ("torque_tool_described", {"tool": late}),
                ("torque_tool_described", {"tool": unused}),
                ("tightening_sheet_described", {"sheet": joints.a_sheet(**elsewhere)}),
            )
        ]
        helper = persons.add(conn, office.workshop.id, "Tomas", "technician", "seven feelers").id
    sheet["entry"], tool = entries[0].entry["id"], entries[1].entry["id"]
    wrench = {"tool": "Wrench W1", "tool_id": late["id"], "basis": [sheet["entry"], tool]}
    joints.Tightening(phone, another, sheet).tap("snug", "231", **wrench)
    run = joints.Tightening(phone, job, sheet)
    run.tap("snug", "32", **wrench)
    run.answer("snug/3/out_of_order/1")
    [over] = run.tap("snug", "1", given="typed", value="26", **wrench)
    run.restart("snug", "Let go and begun again: bolt 1 went past its torque.")
    run.tap("snug", **wrench)
    [slip] = run.tap("turn", "2", given="typed", value="9")
    record.correct(phone, slip, {"value": "92"}, reason="Half of it typed.")
    [_, again] = run.tap("turn", "33")
    record.withdraw(phone, again, "tapped by mistake")
    run.tap("turn", "1")
    record.tick(phone, job, "build", "which_way")
    phone.author = helper
    run.say("tightening_witnessed", remark="Seen from bolt 2 on.")
    phone.author = office.manager.id
    run.close()
    other = joints.Tightening(phone, job, sheet, joint="head_bolt/B", bolts="used", use=1)
    other.answer("//stretch_reused/1", "Trial assembly only, new bolts ordered.")
    other.tap("snug", "2", set_value="18.5", remark="With the crow-foot.")
    loose = joints.Tightening(phone, job, sheet, direction="loosen", bolts="unknown")
    given = {"stage": "release", "method": "release", "value": "31", "unit": "N·m", "given": "typed", "state": "oiled"}
    given |= {"tool": "old wrench", "tool_id": "", "set_value": "", "remark": "", "basis": [sheet["entry"]], **TYPED}
    loose.say("fastener_tightened", "4", fastener="4", **given)
    bare = given | {"stage": "", "run": "", "remark": "Outside any sheet.", "basis": []}
    loose.say("fastener_tightened", "1", fastener="1", **bare)


STEPS = {"id": "2d6e3c74-7b30-4e79-9d2c-5c8f4b901e34", "code": "steps", "values": ["0.25", "0.50"]}
HEIC = b"\0\0\0\x18ftypheic\0\0\0\0heicmif1" + b"SEED-PLACE" * 4
PHOTO = {"method": "desk", "width": None, "height": None, "sharpness": None, "exposure": None, "file_time": None}
DOCUMENTS = [
    ("test.pdf", "document", "document_added", {"title": "Crack test", "remark": ""}),
    ("p.heic", "original", "photo_taken", PHOTO | {"caption": "A kind nobody here can clean"}),
]


def named(data: bytes, name: str, role: str) -> dict:
    kinds = {"jpg": "image/jpeg", "wav": "audio/wav", "pdf": "application/pdf", "heic": "image/heic"}
    sha = hashlib.sha256(data).hexdigest()
    return {"length": len(data), "name": name, "role": role, "sha256": sha, "type": kinds[name.split(".")[1]]}


def send_sound(phone: Phone, job: str) -> None:
    body = {"method": "live", "duration_ms": 200, "interrupted": False, "caption": ""}
    body |= {"mode": "note", "screen": "none", "procedure": "", "reading": ""}
    media = [named(a_sound(), "note.wav", "audio")]
    record.keep(phone, phone.entry("sound_recorded", job, location=record.at("rod/3"), body=body, media=media))
