"""Small sheets, tools and runs to tell a story of a tightening with. All invented."""

from __future__ import annotations

RUN = "0197b000-0000-7000-8000-00000000000a"
OTHER_RUN = "0197b000-0000-7000-8000-00000000000b"
ANN, BEN, MANAGER = (f"0197b000-0000-7000-8000-0000000000a{n}" for n in (1, 2, 3))
CLICK, GAUGE, OLD = (f"0197b000-0000-7000-8000-0000000000b{n}" for n in (1, 2, 3))
ENGINE = "0197a3c0-2906-7000-8000-000000000001"


def stage(code="snug", method="torque", target="20", unit="N·m", minus="2", plus="2", order="1234", **more):
    given = {"code": code, "words": code.capitalize(), "method": method, "target": target, "unit": unit}
    given |= {"minus": minus, "plus": plus, "order": list(order), "proposed": False, "after": ""}
    return given | more


def turn(code="turn", **more):
    return stage(code, **{"method": "angle", "target": "90", "unit": "°", "minus": "5", "plus": "5"} | more)


def let_go(code="slack", **more):
    return stage(code, **{"method": "release", "target": "", "unit": "", "minus": "", "plus": ""} | more)


def sheet(*stages, **more):
    return {
        "id": "0197b000-0000-7000-8000-0000000000c1",
        "engine_type": ENGINE,
        "joint": "head_bolt/A",
        "name": "Cylinder head",
        "thread": {"size": "M10", "pitch": "1.5", "class": "10.9"},
        "state": "oiled",
        "bolt": "reusable",
        "uses_most": 0,
        "length_most": "",
        "stages": list(stages) or [stage(), turn()],
        "friction": {"k": "0.20", "thread": "", "head": ""},
        "two_people": False,
        "holds": [],
        "source": "invented",
        "withdrawn": False,
        "note": "",
    } | more


def tool(id=CLICK, sort="click", unit="N·m", low="10", high="100", due="2027-01-01", name="Wrench W1", **more):
    names = ("class", "deviation", "calibrated", "serial", "certificate", "notes")
    return dict.fromkeys(names, "") | {
        "id": id, "name": name, "sort": sort, "unit": unit, "low": low, "high": high, "due": due, "retired": False,
        "cycles_most": 5000, "cycles_at_calibration": 0,
    } | more  # fmt: skip


def register(*tools):
    """The tools as the log describes them, one entry each."""
    return [
        {
            "entry": f"0197b000-0000-7000-8000-0000000001{n:02d}",
            "tool": tool,
            "claimed": "2026-05-01T08:00:00.000+01:00",
        }
        for n, tool in enumerate(tools)
    ]


class Story:
    """Entries of one run, made one after the other, three seconds apart. Each method returns the entry."""

    def __init__(self, run=RUN, begun=True, step_ms=3000, **more):
        self.entries, self.run, self.step_ms, self.ms = [], run, step_ms, 0
        if begun:
            self.begin(**more)

    def add(self, kind, body, by=ANN):
        n = len(self.entries) + 1
        minutes, rest = divmod(self.ms, 60000)
        claimed = f"2026-05-14T{10 + minutes // 60:02d}:{minutes % 60:02d}:{rest // 1000:02d}.{rest % 1000:03d}+01:00"
        self.ms += self.step_ms
        entry = {"id": f"0197b000-0000-7000-8000-{n:012d}", "kind": kind, "body": {"run": self.run} | body}
        self.entries.append(entry | {"author": by, "claimed": claimed, "withdrawn": False})
        return self.entries[-1]

    def begin(self, direction="tighten", bolts="new", use=0, by=ANN):
        body = {"sheet": "0197b000-0000-7000-8000-0000000000c1", "basis": [], "joint": "head_bolt/A"}
        body |= {"direction": direction, "bolts": bolts, "use": use, "remark": ""}
        return self.add("tightening_begun", body, by)

    def tap(self, stage, label, by=ANN, method="torque", tool_id="", set_value="", basis=(), **more):
        body = {"fastener": label, "value": "", "unit": "", "method": method, "tool": "", "state": "oiled"}
        body |= {"remark": "", "stage": stage, "given": "tap", "tool_id": tool_id, "set_value": set_value}
        return self.add("fastener_tightened", body | {"basis": list(basis)} | more, by)

    def taps(self, stage, labels, **more):
        for label in labels:
            self.tap(stage, label, **more)
        return self

    def typed(self, stage, label, value, unit="N·m", **more):
        return self.tap(stage, label, value=value, unit=unit, given="typed", **more)

    def answer(self, key, reason="As found.", by=ANN):
        return self.add("departure_answered", {"departure": key, "reason": reason}, by)

    def restart(self, stage, reason="Wrong order, done again.", by=ANN):
        return self.add("tightening_stage_restarted", {"stage": stage, "reason": reason}, by)

    def witness(self, by=BEN):
        return self.add("tightening_witnessed", {"remark": ""}, by)

    def close(self, by=ANN):
        return self.add("tightening_closed", {"remark": ""}, by)
