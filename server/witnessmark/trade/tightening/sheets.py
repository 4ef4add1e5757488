"""Tightening sheets: what one holds, the check that gathers all its faults, and the file one travels in.

A sheet is data of an engine type, so it can stand in an entry; numbers are decimal text:

    {"id": uuid, "engine_type": uuid, "joint": "head_bolt/*",      a joint, or a pattern with * for a whole segment
     "name": "Cylinder head", "thread": {"size": "M10", "pitch": "1.5", "class": "10.9"},
     "state": "oiled",                                             a code of fastener_tightened, "" when not said
     "bolt": "stretch",                                            or "reusable"
     "uses_most": 1,           how often such bolts may be tightened in all; 0: as long as their length allows
     "length_most": "",        mm
     "stages": [ ... ],        see trade/tightening/stages.py
     "friction": {"k": "0.20", "thread": "", "head": ""},          coefficients for the estimate of preload, or ""
     "two_people": false,      a second person witnesses it before it is closed
     "holds": [{"sort": "measured", "procedure": "main_journal", "figure": "ovality", "where": []},
               {"sort": "ticked", "stage": "build", "item": "which_way"}],
     "source": "Maker's manual, 3rd edition, page 41", "withdrawn": false, "note": ""}
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from witnessmark.trade.engine import stages
from witnessmark.trade.engine.types import FASTENER_PARTS
from witnessmark.trade.ground import described, shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.exchange import Exchange
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.tightening.preload_estimate import beyond_thread
from witnessmark.trade.tightening.stages import check_stages

STATES = ("", "dry", "oiled", "sealant", "locking", "new", "used")
MOST_HOLDS = 40

_is_pattern = re.compile(r"[a-z][a-z0-9_]{0,39}(?:/(?:[A-Za-z0-9_]{1,20}|\*)){0,5}").fullmatch
_is_code = re.compile(r"[a-z][a-z0-9_]{0,39}").fullmatch
_some_patterns = shapes.texts(100, 80)


def _joint(value: Any) -> str | None:
    if type(value) is not str or not _is_pattern(value):
        return say("trade.tightening.wrong.joint")
    if value.split("/")[0] not in FASTENER_PARTS:
        return say("trade.tightening.wrong.joint_part", parts=", ".join(FASTENER_PARTS))
    return None


def _is_list(value: Any) -> str | None:
    return None if type(value) is list else say("trade.tightening.wrong.not_list")


def _is_object(value: Any) -> str | None:
    return None if type(value) is dict else say("trade.tightening.wrong.not_object")


_FIELDS: tuple[described.Field, ...] = (
    ("id", say("trade.tightening.field.id"), shapes.uuid),
    ("engine_type", say("trade.tightening.field.engine_type"), shapes.uuid),
    ("joint", say("trade.tightening.field.joint"), _joint),
    ("name", say("trade.tightening.field.name"), shapes.text(80, 1)),
    ("thread", say("trade.tightening.field.thread"), _is_object),
    ("state", say("trade.tightening.field.state"), described.one_of(STATES, say("trade.tightening.wrong.state"))),
    (
        "bolt",
        say("trade.tightening.field.bolt"),
        described.one_of(("reusable", "stretch"), say("trade.tightening.wrong.bolt")),
    ),
    ("uses_most", say("trade.tightening.field.uses_most"), shapes.whole(0, 20)),
    ("length_most", say("trade.tightening.field.length_most"), described.number_or_nothing),
    ("stages", say("trade.tightening.field.stages"), _is_list),
    ("friction", say("trade.tightening.field.friction"), _is_object),
    ("two_people", say("trade.tightening.field.two_people"), shapes.yes_no),
    ("holds", say("trade.tightening.field.holds"), _is_list),
    ("source", say("trade.tightening.field.source"), shapes.text(300, 1)),
    ("withdrawn", say("trade.tightening.field.withdrawn"), shapes.yes_no),
    ("note", say("trade.tightening.field.note"), shapes.text(1000)),
)


def check(sheet: Any, engine_type: dict[str, Any] | None = None) -> list[Fault]:
    """All faults of a sheet, none when it can be used. Never raises, whatever the sheet is. With a sound engine type
    the joint must be there, and each order must name each of its fasteners once."""
    faults = described.faults_of(sheet, _FIELDS, "sheet", say("trade.tightening.thing.sheet"))
    if faults:
        return faults
    joints = joints_of(sheet["joint"], engine_type) if engine_type else []
    if engine_type and sheet["engine_type"] != engine_type["id"]:
        faults.append(
            Fault("engine_type", say("trade.tightening.sheet.other_engine_type", engine_type=engine_type["name"]))
        )
    elif engine_type and not joints:
        about = {"joint": sheet["joint"], "engine_type": engine_type["name"]}
        known = listed(joint["code"] for joint in engine_type["joints"])
        words = (
            say("trade.tightening.sheet.no_such_joint", **about, joints=known)
            if known
            else say("trade.tightening.sheet.no_joints", **about)
        )
        faults.append(Fault("joint", words))
    faults += _thread(sheet["thread"]) + _bolt(sheet) + _friction(sheet["friction"])
    labels = [(joint["code"], [fastener["label"] for fastener in joint["fasteners"]]) for joint in joints]
    faults += check_stages(sheet["stages"], labels) + _holds(sheet["holds"])
    # What a torque makes of the thread can be worked out only when everything else holds together.
    return faults or beyond_thread(sheet)


def joints_of(pattern: str, engine_type: dict[str, Any]) -> list[dict[str, Any]]:
    """The joints of an engine type that a sheet's joint names: `head_bolt/*` names head_bolt/A and head_bolt/B."""
    wanted = pattern.split("/")

    def named(code: str) -> bool:
        parts = code.split("/")
        return len(parts) == len(wanted) and all(want in ("*", part) for want, part in zip(wanted, parts, strict=True))

    return [joint for joint in engine_type["joints"] if named(joint["code"])]


def _above_nothing(value: Any) -> str | None:
    if reason := described.number_or_nothing(value):
        return reason
    return None if value == "" or Fraction(value) > 0 else say("trade.tightening.wrong.not_above_zero")


_THREAD: tuple[described.Field, ...] = (
    ("size", say("trade.tightening.field.size"), shapes.text(20, 1)),
    ("pitch", say("trade.tightening.field.pitch"), _above_nothing),
    ("class", say("trade.tightening.field.class"), shapes.text(10)),
)
_FRICTION: tuple[described.Field, ...] = (
    ("k", say("trade.tightening.field.k"), _above_nothing),
    ("thread", say("trade.tightening.field.friction_thread"), _above_nothing),
    ("head", say("trade.tightening.field.friction_head"), _above_nothing),
)


def _inside(faults: list[Fault], where: str) -> list[Fault]:
    return [Fault(f"{where}.{fault.where}", fault.message) for fault in faults]


def _thread(thread: dict[str, Any]) -> list[Fault]:
    return _inside(described.faults_of(thread, _THREAD, "thread", say("trade.tightening.thing.thread")), "thread")


def _friction(friction: dict[str, Any]) -> list[Fault]:
    faults = _inside(
        described.faults_of(friction, _FRICTION, "friction", say("trade.tightening.thing.friction")), "friction"
    )
    if not faults and (friction["thread"] == "") != (friction["head"] == ""):
        side = "head" if friction["head"] == "" else "thread"
        faults.append(Fault(f"friction.{side}", say("trade.tightening.sheet.friction_half")))
    return faults


def _bolt(sheet: dict[str, Any]) -> list[Fault]:
    faults = []
    if sheet["length_most"] and Fraction(sheet["length_most"]) <= 0:
        faults.append(Fault("length_most", say("trade.tightening.sheet.length_most")))
    if sheet["bolt"] == "stretch" and sheet["uses_most"] == 0 and sheet["length_most"] == "":
        faults.append(Fault("uses_most", say("trade.tightening.sheet.stretch_limit")))
    return faults


def _holds(holds: list[Any]) -> list[Fault]:
    if len(holds) > MOST_HOLDS:
        return [Fault("holds", say("trade.tightening.sheet.most_holds", count=MOST_HOLDS))]
    faults = []
    for index, hold in enumerate(holds):
        where = f"holds.{index}"
        if type(hold) is dict and hold.keys() == {"sort", "stage", "item"} and hold["sort"] == "ticked":
            known = {checklist["item"] for checklist in stages.CHECKLISTS.get(_text(hold["stage"]), [])}
            if _text(hold["stage"]) not in stages.CODES:
                faults.append(Fault(f"{where}.stage", say("trade.tightening.sheet.hold_stage", number=index + 1)))
            elif _text(hold["item"]) not in known:
                faults.append(Fault(f"{where}.item", say("trade.tightening.sheet.hold_item", number=index + 1)))
        elif (
            type(hold) is dict
            and hold.keys() == {"sort", "procedure", "figure", "where"}
            and (hold["sort"] == "measured")
        ):
            if not _is_code(_text(hold["procedure"])):
                words = say("trade.tightening.sheet.hold_procedure", number=index + 1)
                faults.append(Fault(f"{where}.procedure", words))
            if not _is_code(_text(hold["figure"])):
                faults.append(Fault(f"{where}.figure", say("trade.tightening.sheet.hold_figure", number=index + 1)))
            if _some_patterns(hold["where"]) or not all(_is_pattern(pattern) for pattern in hold["where"]):
                faults.append(Fault(f"{where}.where", say("trade.tightening.sheet.hold_where", number=index + 1)))
        else:
            faults.append(Fault(where, say("trade.tightening.sheet.hold_sort", number=index + 1)))
    return faults


def _text(value: Any) -> str:
    return value if type(value) is str else ""


# A tightening sheet travels in such a file; the faults of what is in one are `check`'s to find.
_FILE = Exchange("witnessmark tightening sheet 1", "sheet", say("trade.tightening.thing.sheet_file"))
write_file, read_file = _FILE.write, _FILE.read
