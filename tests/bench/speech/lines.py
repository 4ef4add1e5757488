"""What is said in the benchmark: invented lines of an invented workshop, and what each of them means.

A measured line means place, point, quantity, value and unit; a finding place, conditions and disposition; a note and
chatter mean nothing that could be recorded. The quantity in `screen` is the one the screen is for, where the speaker
leaves it out. Half of the lines (`half` 0) may be used to set weights, the other half (1) only to measure.
"""

from __future__ import annotations

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


# engine | quantity of the screen, - when it is spoken | words | place | point | quantity | value | unit
MEASURED = """
V6 | diameter | bore three top thrust eighty eight point nine four millimetres | bore/3 | top, thrust | diameter | 88.94 | mm
V6 | diameter | bore one bottom axial eighty eight point nine two millimetres | bore/1 | bottom, axial | diameter | 88.92 | mm
V6 | diameter | cylinder six middle thrust reads eighty nine point zero one millimetres | bore/6 | middle, thrust | diameter | 89.01 | mm
V6 | diameter | bore five middle axial eighty eight point nine zero millimetres | bore/5 | middle, axial | diameter | 88.90 | mm
V6 | diameter | bore two top axial three point five zero two inches | bore/2 | top, axial | diameter | 3.502 | in
V6 | diameter | main two front ninety degrees sixty two point nine eight millimetres | main/2 | front, 90 deg | diameter | 62.98 | mm
V6 | diameter | crankpin one rear fifty one point nine six five millimetres | crankpin/1 | | diameter | 51.965 | mm
V6 | - | main journal four diameter is sixty two point nine seven millimetres | main/4 | | diameter | 62.97 | mm
V6 | - | crankpin three diameter fifty one point nine eight millimetres | crankpin/3 | | diameter | 51.98 | mm
V6 | - | piston four diameter eighty eight point eight nine millimetres | piston/4 | | diameter | 88.89 | mm
V6 | - | gudgeon pin two diameter twenty one point nine nine seven millimetres | gudgeon_pin/2 | | diameter | 21.997 | mm
V6 | - | big end bearing five clearance two and a half thou | rod_bearing/5 | | clearance | 2.5 | thou
V6 | - | main bearing three clearance point oh four millimetres | main_bearing/3 | | clearance | 0.04 | mm
V6 | - | piston one clearance point oh six five millimetres | piston/1 | | clearance | 0.065 | mm
V6 | - | main bearing one clearance three thou | main_bearing/1 | | clearance | 3 | thou
V6 | - | rod bearing six clearance fifty five microns | rod_bearing/6 | | clearance | 55 | um
V6 | - | crankshaft end float is six thou | crankshaft | | end_float | 6 | thou
V6 | - | crankshaft end float point one eight millimetres | crankshaft | | end_float | 0.18 | mm
V6 | - | camshaft end float nought point one two millimetres | camshaft/block | | end_float | 0.12 | mm
V6 | - | main three run out two thou | main/3 | | run_out | 2 | thou
V6 | - | flywheel run out point one five millimetres | flywheel | | run_out | 0.15 | mm
V6 | - | connecting rod two side clearance point two five millimetres | rod/2 | | side_clearance | 0.25 | mm
V6 | - | con rod four side clearance eleven thou | rod/4 | | side_clearance | 11 | thou
V6 | - | con rod three bend point oh three millimetres | rod/3 | | bend | 0.03 | mm
V6 | - | cylinder three compression ten point five bar | bore/3 | | compression | 10.5 | bar
V6 | - | cylinder five compression one hundred and sixty psi | bore/5 | | compression | 160 | psi
V6 | - | cylinder two compression a hundred and seventy five psi | bore/2 | | compression | 175 | psi
V6 | - | compression cylinder four is nine point eight bar | bore/4 | | compression | 9.8 | bar
V6 | - | cylinder one leakdown reads twelve percent | bore/1 | | leak_down | 12 | %
V6 | - | cylinder six leak down eight percent | bore/6 | | leak_down | 8 | %
V6 | - | oil pressure four point two bar | engine | | oil_pressure | 4.2 | bar
V6 | - | engine oil pressure is fifty eight psi | engine | | oil_pressure | 58 | psi
V6 | - | engine temperature ninety degrees celsius | engine | | temperature | 90 | °C
V6 | - | thermostat temperature eighty two degrees celsius | thermostat | | temperature | 82 | °C
V6 | - | left head flatness point oh five millimetres | head/A | | flatness | 0.05 | mm
V6 | - | right head flatness is two thou | head/B | | flatness | 2 | thou
V6 | - | deck left bank flatness three thou | deck/A | | flatness | 3 | thou
V6 | - | crankshaft torque nineteen newton metres | crankshaft | | torque | 19 | N·m
V6 | - | crankshaft torque is fourteen foot pounds | crankshaft | | torque | 14 | lbf·ft
V6 | - | chamber two volume forty one point six cc | chamber/2 | | volume | 41.6 | cm³
V6 | - | piston five mass four hundred and sixteen grams | piston/5 | | mass | 416 | g
V6 | - | valve five inlet clearance sixteen thou | valve/5/inlet/1 | | clearance | 16 | thou
V6 | - | valve three exhaust clearance point three zero millimetres | valve/3/exhaust/1 | | clearance | 0.30 | mm
FOUR | diameter | bore four bottom thrust ninety one point oh two millimetres | bore/4 | bottom, thrust | diameter | 91.02 | mm
FOUR | diameter | main five rear zero degrees fifty seven point nine five millimetres | main/5 | rear, 0 deg | diameter | 57.95 | mm
FOUR | - | crankpin four diameter forty seven point nine nine millimetres | crankpin/4 | | diameter | 47.99 | mm
FOUR | - | main bearing five clearance one and a half thou | main_bearing/5 | | clearance | 1.5 | thou
FOUR | - | main journal two run out one hundredth of a millimetre | main/2 | | run_out | 0.01 | mm
FOUR | - | cylinder one compression twenty four bar | bore/1 | | compression | 24 | bar
FOUR | - | injector three opening pressure two hundred and fifty bar | injector/3 | | opening_pressure | 250 | bar
FOUR | - | cylinder four leakdown nineteen percent | bore/4 | | leak_down | 19 | %
FOUR | - | oil pump backlash point one six millimetres | oil_pump | | backlash | 0.16 | mm
FOUR | - | head flatness eight hundredths of a millimetre | head/A | | flatness | 0.08 | mm
FOUR | - | starter voltage ten point four volts | starter | | voltage | 10.4 | V
FOUR | - | engine speed eight hundred and fifty rpm | engine | | speed | 850 | r/min
FOUR | - | rod two twist point oh two millimetres | rod/2 | | twist | 0.02 | mm
"""

# engine | words | place | conditions | disposition
FINDINGS = """
V6 | bore two is scored rebore | bore/2 | scored | rework
V6 | main bearing three wiped replace it | main_bearing/3 | wiped | replace
V6 | crankpin one polished use as is | crankpin/1 | polished | use_as_is
V6 | piston five scuffed replace | piston/5 | scuffed | replace
V6 | left head cracked replace | head/A | cracked | replace
V6 | con rod four bent renew | rod/4 | bent | replace
V6 | head gasket right bank blown replace | head_gasket/B | blown | replace
V6 | sump contaminated with swarf | sump | contaminated |
V6 | water pump leaking renew it | water_pump | leaking | replace
V6 | valve six exhaust burnt replace | valve/6/exhaust/1 | burnt | replace
FOUR | main journal five scored regrind | main/5 | scored | rework
FOUR | big end bearing two fatigued replace | rod_bearing/2 | fatigued | replace
FOUR | core plug corroded and leaking replace | core_plug | corroded, leaking | replace
FOUR | turbo seized renew | turbocharger | seized | replace
FOUR | flywheel overheated refer to the customer | flywheel | overheated | refer
FOUR | thrust bearing wiped replace | thrust_bearing | wiped | replace
"""

NOTES = """
V6 | there is a lot of sludge in the sump and the pick up is half blocked
V6 | the coolant was brown and smelled of exhaust gas when I drained it
V6 | somebody has been in here before the cap bolts are marked with a punch
V6 | the rear oil seal has been leaking on to the clutch for a long time
FOUR | I have put the bearing shells in a bag and labelled them by cylinder
FOUR | the head was stuck hard and I had to warm it before it came away
FOUR | customer says it lost power on the hill and then blew white smoke
FOUR | all the bolts came out cleanly apart from the last one on the left
"""

CHATTER = """
V6 | can you pass me the big spanner please
V6 | I think the kettle has just boiled
V6 | did you see the football last night
V6 | we are going to need more rags on Friday
FOUR | turn the radio down I am on the telephone
FOUR | the delivery van is blocking the gate again
FOUR | my brother is coming over at half past four
FOUR | it looks like rain so close the big door
"""


def _cells(table: str) -> list[list[str]]:
    return [[cell.strip() for cell in row.split("|")] for row in table.strip().splitlines()]


def _all() -> list[Said]:
    engines = {"V6": V6, "FOUR": FOUR}
    found: list[Said] = []
    for engine, screen, words, place, point, quantity, value, unit in _cells(MEASURED):
        means = {"place": place, "point": point, "quantity": quantity, "value": value, "unit": unit}
        found.append(Said(len(found), "measure", engines[engine], words, screen.strip("-"), means))
    for engine, words, place, conditions, disposition in _cells(FINDINGS):
        kinds = [one.strip() for one in conditions.split(",")]
        means = {"place": place, "conditions": kinds, "disposition": disposition}
        found.append(Said(len(found), "finding", engines[engine], words, "", means))
    for sort, table in (("note", NOTES), ("chatter", CHATTER)):
        found += [Said(len(found) + i, sort, engines[e], words) for i, (e, words) in enumerate(_cells(table))]
    return found


LINES = _all()
