"""Records with names in place of numbers: who wrote them, on which phone, and whether their files have arrived."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from witnessmark.media import previews, store
from witnessmark.people import devices, persons
from witnessmark.projections import items
from witnessmark.trade.ground.sentences import say
from witnessmark.web.spoken_schemas import UNDECODABLE

UNKNOWN = "unknown"
DESK = say("server.people.desk")  # as an author: what the server writes itself is signed by nobody else


class Names:
    """The names of a workshop's persons and devices, read once for an answer."""

    def __init__(self, conn: Connection, workshop: str):
        self._persons = persons.names(conn, workshop)
        self._devices = {device.id: device for device in devices.all_of(conn, workshop)}

    def person(self, id: str) -> dict:
        device = self._devices.get(id)
        nobody = DESK if device and not device.letter else UNKNOWN
        return {"id": id, "name": self._persons.get(id, nobody)}

    def device(self, id: str) -> dict:
        device = self._devices.get(id)
        return {"id": id, "name": device_name(device) if device else UNKNOWN}

    def clock_offset_ms(self, id: str) -> int | None:
        device = self._devices.get(id)
        return device.clock_offset_ms if device else None


def device_name(device: devices.Device) -> str:
    """As written beside an exhibit: "A, bench phone"; the desk has no letter."""
    return f"{device.letter}, {device.name}" if device.letter else device.name


def history(statements: Sequence[dict], field: str, names: Names) -> list[dict]:
    """Statements of the workshop with who made them when: {position, entry, author, received, `field`: what}."""
    return [
        {
            "position": statement["position"],
            "entry": statement["id"],
            "author": names.person(statement["author"]),
            "received": statement["received"],
            field: statement["what"],
        }
        for statement in statements
    ]


def show(conn: Connection, workshop: str, rows: Sequence[int]) -> list[dict]:
    """The records under these rows, ready to be answered."""
    shown = items.show(conn, workshop, rows)
    named = {media["sha256"] for item in shown for media in item["media"]}
    here = store.which(conn, named) if named else set()
    small = previews.having_preview(conn, named) if named else set()
    sounds = {item["id"]: item["media"][0]["sha256"] for item in shown if item["spoken"]}
    faults = store.faults(conn, sounds.values()) if sounds else {}
    names = Names(conn, workshop)
    for item in shown:
        item["author"] = names.person(item["author"])
        item["device"] = names.device(item["device"])
        item["media"] = [
            media | {"here": media["sha256"] in here, "preview": media["sha256"] in small} for media in item["media"]
        ]
        for answer in (*item["corrected_by"], *filter(None, [item["withdrawn"]])):
            answer["by"] = names.person(answer["by"])
        if note := item["spoken"]:
            note["why"] = faults.get(sounds[item["id"]], "")
            if note["why"] and note["state"] == "waiting":
                note["state"] = UNDECODABLE
            if note["confirmed"]:
                note["confirmed"]["author"] = names.person(note["confirmed"]["author"])
    return shown
