"""What is said in the benchmark: invented lines of an invented workshop, and what each of them means.

A measured line means place, point, quantity, value and unit; a finding place, conditions and disposition; a note and
chatter mean nothing that could be recorded. The quantity in `screen` is the one the screen is for, where the speaker
leaves it out. Half of the lines (`half` 0) may be used to set weights, the other half (1) only to measure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

V6, FOUR = "Halvern 2.9 V6", "Corrie 2.2 four"


@dataclass(frozen=True)
class Said:
    """One line: the words as spoken, on which engine, on which sort of screen, and what they mean."""

    number: int
    sort: str  # measure, finding, note, chatter
    engine: str
    words: str
    quantity_of_screen: str = ""
    means: dict[str, Any] = field(default_factory=dict)

    @property
    def half(self) -> int:
        return self.number % 2

    def screen(self) -> dict[str, Any]:
        sort = {"measure": "measure", "finding": "finding"}.get(self.sort, "any")
        return {
            "sort": sort,
            "place": "",
            "point": "",
            "procedure": "",
            "reading": "",
            "quantity": self.quantity_of_screen,
            "units": [],
        }


# words | place | point | quantity | value | unit
MEASURED = {
    V6: """
bore three top thrust eighty eight point nine four millimetres | bore/3 | top, thrust | diameter | 88.94 | mm
bore one bottom axial eighty eight point nine two millimetres | bore/1 | bottom, axial | diameter | 88.92 | mm
cylinder six middle thrust is eighty nine point zero one millimetres | bore/6 | middle, thrust | diameter | 89.01 | mm
bore five middle axial eighty eight point nine zero millimetres | bore/5 | middle, axial | diameter | 88.90 | mm
bore two top axial three point five zero two inches | bore/2 | top, axial | diameter | 3.502 | in
main two front ninety degrees sixty two point nine eight millimetres | main/2 | front, 90 deg | diameter | 62.98 | mm
crankpin one rear fifty one point nine six five millimetres | crankpin/1 | rear | diameter | 51.965 | mm
main journal four diameter is sixty two point nine seven millimetres | main/4 | | diameter | 62.97 | mm
crankpin three diameter fifty one point nine eight millimetres | crankpin/3 | | diameter | 51.98 | mm
piston four diameter eighty eight point eight nine millimetres | piston/4 | | diameter | 88.89 | mm
gudgeon pin two diameter twenty one point nine nine seven millimetres | gudgeon_pin/2 | | diameter | 21.997 | mm
big end bearing five clearance two and a half thou | rod_bearing/5 | | clearance | 2.5 | thou
main bearing three clearance point oh four millimetres | main_bearing/3 | | clearance | 0.04 | mm
piston one clearance point oh six five millimetres | piston/1 | | clearance | 0.065 | mm
main bearing one clearance three thou | main_bearing/1 | | clearance | 3 | thou
rod bearing six clearance fifty five microns | rod_bearing/6 | | clearance | 55 | um
crankshaft end float is six thou | crankshaft | | end_float | 6 | thou
crankshaft end float point one eight millimetres | crankshaft | | end_float | 0.18 | mm
camshaft end float nought point one two millimetres | camshaft/block | | end_float | 0.12 | mm
main three run out two thou | main/3 | | run_out | 2 | thou
flywheel run out point one five millimetres | flywheel | | run_out | 0.15 | mm
connecting rod two side clearance point two five millimetres | rod/2 | | side_clearance | 0.25 | mm
con rod four side clearance eleven thou | rod/4 | | side_clearance | 11 | thou
con rod three bend point oh three millimetres | rod/3 | | bend | 0.03 | mm
cylinder three compression ten point five bar | bore/3 | | compression | 10.5 | bar
cylinder five compression one hundred and sixty psi | bore/5 | | compression | 160 | psi
cylinder two compression a hundred and seventy five psi | bore/2 | | compression | 175 | psi
compression cylinder four is nine point eight bar | bore/4 | | compression | 9.8 | bar
cylinder one leakdown reads twelve percent | bore/1 | | leak_down | 12 | %
cylinder six leak down eight percent | bore/6 | | leak_down | 8 | %
engine oil pressure four point two bar | engine | | oil_pressure | 4.2 | bar
engine oil pressure is fifty eight psi | engine | | oil_pressure | 58 | psi
engine temperature ninety degrees celsius | engine | | temperature | 90 | °C
thermostat temperature eighty two degrees celsius | thermostat | | temperature | 82 | °C
left head flatness point oh five millimetres | head/A | | flatness | 0.05 | mm
right head flatness is two thou | head/B | | flatness | 2 | thou
deck left bank flatness three thou | deck/A | | flatness | 3 | thou
crankshaft torque nineteen newton metres | crankshaft | | torque | 19 | N·m
crankshaft torque is fourteen foot pounds | crankshaft | | torque | 14 | lbf·ft
chamber two volume forty one point six cc | chamber/2 | | volume | 41.6 | cm³
piston five mass four hundred and sixteen grams | piston/5 | | mass | 416 | g
valve five inlet clearance sixteen thou | valve/5/inlet/1 | | clearance | 16 | thou
valve three exhaust clearance point three zero millimetres | valve/3/exhaust/1 | | clearance | 0.30 | mm
""",
    FOUR: """
bore four bottom thrust ninety one point oh two millimetres | bore/4 | bottom, thrust | diameter | 91.02 | mm
main five rear zero degrees fifty seven point nine five millimetres | main/5 | rear, 0 deg | diameter | 57.95 | mm
crankpin four diameter forty seven point nine nine millimetres | crankpin/4 | | diameter | 47.99 | mm
main bearing five clearance one and a half thou | main_bearing/5 | | clearance | 1.5 | thou
main journal two run out one hundredth of a millimetre | main/2 | | run_out | 0.01 | mm
cylinder one compression twenty four bar | bore/1 | | compression | 24 | bar
injector three opening pressure two hundred and fifty bar | injector/3 | | opening_pressure | 250 | bar
cylinder four leakdown nineteen percent | bore/4 | | leak_down | 19 | %
oil pump backlash point one six millimetres | oil_pump | | backlash | 0.16 | mm
head flatness eight hundredths of a millimetre | head/A | | flatness | 0.08 | mm
starter voltage ten point four volts | starter | | voltage | 10.4 | V
generator voltage fourteen point two volts | generator | | voltage | 14.2 | V
rod two twist point oh two millimetres | rod/2 | | twist | 0.02 | mm
""",
}

# words | place | conditions | disposition
FINDINGS = {
    V6: """
bore two is scored rebore | bore/2 | scored | rework
main bearing three wiped replace it | main_bearing/3 | wiped | replace
crankpin one polished use as is | crankpin/1 | polished | use_as_is
piston five scuffed replace | piston/5 | scuffed | replace
left head cracked replace | head/A | cracked | replace
con rod four bent renew | rod/4 | bent | replace
head gasket right bank blown replace | head_gasket/B | blown | replace
sump contaminated with swarf | sump | contaminated |
water pump leaking renew it | water_pump | leaking | replace
valve six exhaust burnt replace | valve/6/exhaust/1 | burnt | replace
""",
    FOUR: """
main journal five scored regrind | main/5 | scored | rework
big end bearing two fatigued replace | rod_bearing/2 | fatigued | replace
core plug corroded and leaking replace | core_plug | corroded, leaking | replace
turbo seized renew | turbocharger | seized | replace
flywheel overheated refer to the customer | flywheel | overheated | refer
thrust bearing wiped replace | thrust_bearing | wiped | replace
""",
}

NOTES = {
    V6: """
there is a lot of sludge in the sump and the pick up is half blocked
the coolant was brown and smelled of exhaust gas when I drained it
somebody has been in here before the cap bolts are marked with a punch
the rear oil seal has been leaking on to the clutch for a long time
""",
    FOUR: """
I have put the bearing shells in a bag and labelled them by cylinder
the head was stuck hard and I had to warm it before it came away
customer says it lost power on the hill and then blew white smoke
all the bolts came out cleanly apart from the last one on the left
""",
}

CHATTER = {
    V6: """
can you pass me the big spanner please
I think the kettle has just boiled
did you see the football last night
we are going to need more rags on Friday
""",
    FOUR: """
turn the radio down I am on the telephone
the delivery van is blocking the gate again
my brother is coming over at half past four
it looks like rain so close the big door
""",
}


def _rows(tables: dict[str, str]) -> Iterator[tuple[str, list[str]]]:
    for engine, table in tables.items():
        for row in table.strip().splitlines():
            yield engine, [cell.strip() for cell in row.split("|")]


def _all() -> list[Said]:
    result: list[Said] = []
    for engine, (words, place, point, quantity, value, unit) in _rows(MEASURED):
        means = {"place": place, "point": point, "quantity": quantity, "value": value, "unit": unit}
        # At a bore or a journal nobody says "diameter": the screen is for it.
        of_screen = "diameter" if quantity == "diameter" and "diameter" not in words else ""
        result.append(Said(len(result), "measure", engine, words, of_screen, means))
    for engine, (words, place, conditions, disposition) in _rows(FINDINGS):
        kinds = [one.strip() for one in conditions.split(",")]
        means = {"place": place, "conditions": kinds, "disposition": disposition}
        result.append(Said(len(result), "finding", engine, words, "", means))
    for sort, tables in (("note", NOTES), ("chatter", CHATTER)):
        for engine, (words,) in _rows(tables):
            result.append(Said(len(result), sort, engine, words))
    return result


LINES = _all()
