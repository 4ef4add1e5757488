"""What tightening needs in server tests: sheets, tools and a run as a phone records it. All invented."""

from __future__ import annotations

import uuid

from tests.support import record
from tests.support.measured import posted
from tests.support.phone import Phone
from tests.support.record import ENGINE_TYPE_ID, at, keep
from witnessmark.trade.record.kinds import TYPED

SHEET_ID = "3e7f4d85-8c41-4f8a-8e3d-6d905ca12f44"
TOOL_ID = "4f805e96-9d52-409b-9f4e-7ea16db23055"


def a_stage(code: str = "snug", target: str = "20", **changes) -> dict:
    return {
        "code": code,
        "words": code.capitalize(),
        "method": "torque",
        "target": target,
        "unit": "N·m",
        "minus": "2",
        "plus": "2",
        "order": ["2", "3", "1", "4"],
        "proposed": False,
        "after": "",
    } | changes


def a_turn(code: str = "turn", **changes) -> dict:
    return a_stage(code, "90", method="angle", unit="°", minus="5", plus="5") | changes


def a_sheet(**changes) -> dict:
    """The heads of the invented V6: 20 N·m, then 90 degrees."""
    return {
        "id": SHEET_ID,
        "engine_type": ENGINE_TYPE_ID,
        "joint": "head_bolt/*",
        "name": "Heads",
        "thread": {"size": "M10", "pitch": "1.5", "class": "10.9"},
        "state": "oiled",
        "bolt": "reusable",
        "uses_most": 0,
        "length_most": "",
        "stages": [a_stage(), a_turn()],
        "friction": {"k": "0.20", "thread": "", "head": ""},
        "two_people": False,
        "holds": [],
        "source": "Invented manual, edition 2, page 41",
        "withdrawn": False,
        "note": "",
    } | changes


def a_tool(**changes) -> dict:
    """A click wrench from 10 to 100 N·m."""
    return {
        "id": TOOL_ID,
        "name": "Wrench W1",
        "sort": "click",
        "serial": "W-0417",
        "unit": "N·m",
        "low": "10",
        "high": "100",
        "class": "",
        "deviation": "4",
        "calibrated": "2026-01-01",
        "due": "2096-01-01",
        "cycles_most": 5000,
        "cycles_at_calibration": 0,
        "certificate": "HL 26-044",
        "retired": False,
        "notes": "Invented.",
    } | changes


def describe_sheet(client, **changes) -> dict:
    """Describes a sheet in the office; returns it with the `entry` it stands in."""
    sheet = a_sheet(**changes)
    answer = posted(client, f"/api/engine-types/{sheet['engine_type']}/tightening", {"sheet": sheet})
    return answer["sheet"] | {"entry": answer["entry"]}


def describe_tool(client, **changes) -> dict:
    answer = posted(client, "/api/torque-tools", {"tool": a_tool(**changes)})
    return answer["tool"] | {"entry": answer["entry"]}


def runs(client, job: str) -> list[dict]:
    answer = client.get(f"/api/jobs/{job}/tightening")
    assert answer.status_code == 200, answer.get_json()
    return answer.get_json()["runs"]


class Tightening:
    """A run as one phone records it, entry by entry. `sheet` is as `describe_sheet` gives it."""

    def __init__(self, phone: Phone, job: str, sheet: dict, joint: str = "head_bolt/A", **changes):
        self.phone, self.job, self.sheet, self.joint = phone, job, sheet, joint
        self.run = str(uuid.uuid4())
        self.begun = self.say(
            "tightening_begun",
            **{
                "sheet": sheet["id"],
                "basis": [sheet["entry"]],
                "joint": joint,
                "direction": "tighten",
                "bolts": "new",
                "use": 0,
                "remark": "",
            }
            | changes,
        )

    def say(self, kind: str, label: str = "1", **body) -> dict:
        where = at(f"{self.joint}/{label}")
        entry = self.phone.entry(kind, self.job, location=where, body={"run": self.run} | body, stage="build")
        return keep(self.phone, entry)

    def tap(self, stage: str, labels: str = "2314", **changes) -> list[dict]:
        """One fastener after the other, each told by the tool."""
        described = next(row for row in self.sheet["stages"] if row["code"] == stage)
        body = {
            "value": described["target"],
            "unit": described["unit"],
            "method": described["method"],
            "tool": "",
            "state": "oiled",
        }
        body |= {"remark": "", "stage": stage, "given": "tap", "tool_id": "", "set_value": ""}
        body |= {"basis": [self.sheet["entry"]]} | TYPED | changes
        return [self.say("fastener_tightened", label, fastener=label, **body) for label in labels]

    def answer(self, departure: str, reason: str = "Bolt 2 was on its way from the store.") -> dict:
        return self.say("departure_answered", departure=departure, reason=reason)

    def restart(self, stage: str, reason: str = "Wrong order, done again.") -> dict:
        return self.say("tightening_stage_restarted", stage=stage, reason=reason)

    def close(self) -> dict:
        return self.say("tightening_closed", remark="")

    def send(self) -> None:
        record.send(self.phone)
