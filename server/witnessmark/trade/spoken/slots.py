"""One breath of speech as slots: what it says of place, point, quantity, value, unit, conditions and disposition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from witnessmark.trade.engine.locations import Place
from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.ground.units import QUANTITIES
from witnessmark.trade.spoken.items import Item
from witnessmark.trade.spoken.numbers import Number, read
from witnessmark.trade.spoken.places import Mention, Where, bank_named
from witnessmark.trade.spoken.settle import On, Settled, settle
from witnessmark.trade.spoken.walk import Run, Walk, walk
from witnessmark.trade.spoken.words import OPPOSITES, point_pieces


@dataclass
class Slots:
    """What one breath says. `place_named`: a place was spoken of, found (`place`) or not. Each `_doubt`: it was said so
    that a person must choose."""

    place: str = ""
    place_named: bool = False
    place_from_screen: bool = False
    point: str = ""
    point_doubt: bool = False
    quantity: str = ""
    quantity_doubt: bool = False
    value: str = ""
    value_to: str = ""
    digits_doubt: bool = False
    maybe: list[str] = field(default_factory=list)
    unit: str = ""
    unit_doubt: bool = False
    conditions: list[str] = field(default_factory=list)
    condition_doubt: bool = False
    disposition: str = ""
    disposition_doubt: bool = False
    left: list[str] = field(default_factory=list)
    known: int = 0
    unknown: int = 0
    other_figure: bool = False
    withdrawn: bool = False

    @property
    def empty(self) -> bool:
        return self.known == 0


def slots(
    items: Sequence[Item], screen: dict[str, Any], engine_type: dict[str, Any] | None, places: list[Place] | None
) -> Slots:
    """The slots of one breath, on this engine and screen."""
    shown = screen["place"].split("/")[0]
    # "Journal three" on a screen that measures main journals is a main journal.
    named = walk(items, shown, screen["sort"] in ("measure", "tighten"))
    _other_side(named, screen["place"])
    found = Slots(left=named.left, known=named.known, unknown=named.unknown, other_figure=named.other_figure)
    parts = _parts(named, shown)
    points = _points(named, parts, engine_type)
    banks = {bank_named(engine_type, said) for said in named.banks}
    side = named.sides[0] if len(set(named.sides)) == 1 else ""
    where = Where(named.mentions, next(iter(banks)) if len(banks) == 1 else "", side)
    degrees = _degrees(named, parts, screen)
    settled = settle(named, where, On(places, engine_type, screen["place"]), degrees)
    _place(found, named, settled, screen, banks)
    _point(found, points + [f"{degree} deg" for degree in settled.degrees] + _clock(named), settled, parts)
    _values(found, named, settled)
    part = settled.place.split("/")[0]
    _quantity(found, named, [part] if part else parts, bool(found.value or found.maybe))
    _findings(found, named)
    return found


def _other_side(named: Walk, on_screen: str) -> None:
    """ "Exhaust" alone, on the screen of an inlet valve: that of the same cylinder."""
    part, *indices = on_screen.split("/")
    per = PARTS[part]["per"] if part in PARTS else ""
    if not named.mentions and named.sides and indices and per in ("valve", "lobe"):
        named.mentions.append(Mention([part], numbers=indices[:1]))


def _parts(named: Walk, shown: str) -> list[str]:
    """The parts it can be about: those named, else that of the screen."""
    parts = [part for mention in named.mentions for part in mention.parts]
    if not parts and shown in PARTS:
        return [shown]
    return list(dict.fromkeys(parts))


def _degrees(named: Walk, parts: Sequence[str], screen: dict[str, Any]) -> list[str]:
    """The degrees that are points of the part, "0" and "90" of a journal, unless an angle is what is measured."""
    if screen["sort"] == "tighten" or screen["quantity"] == "angle" or ["angle"] in named.quantities:
        return []
    pieces = [piece for part in parts for piece in point_pieces(part)]
    return [piece.removesuffix(" deg") for piece in pieces if piece.endswith(" deg")]


def _points(named: Walk, parts: Sequence[str], engine_type: dict[str, Any] | None) -> list[str]:
    """The pieces of a point that were said; left and right become the bank where the part has no such point."""
    has = [piece for part in parts for piece in point_pieces(part)]
    found: list[str] = []
    for said, pieces in named.points:
        fitting = [piece for piece in pieces if piece in has]
        if fitting or not has:
            found.append((fitting or pieces)[0])
        else:
            named.left.append(said)
    for said, name, pieces in named.maybe_banks:
        if any(piece in has for piece in pieces):
            found.append(next(piece for piece in pieces if piece in has))
        elif bank_named(engine_type, name):
            named.banks.append(name)
        else:
            named.left.append(said)
    return list(dict.fromkeys(found))


def _clock(named: Walk) -> list[str]:
    hours = [read(run.tokens) for run in named.runs if run.clock]
    return [f"{hour.text} o'clock" for hour in hours if hour is not None and hour.text]


def _place(found: Slots, named: Walk, settled: Settled, screen: dict[str, Any], banks: set[str]) -> None:
    found.place = settled.place
    found.place_named = bool(named.mentions) or bool(named.banks) or bool(named.sides) or "place" in named.doubtful
    impossible = "" in banks or len(banks) > 1 or len(set(named.sides)) > 1 or "place" in named.doubtful
    if settled.place_doubt or impossible:
        found.place = ""
        return
    if found.place or not screen["place"]:
        return
    # "The bore reads ...": the one on the screen, when no number or side says otherwise.
    bare = all(not mention.numbers for mention in named.mentions) and not named.sides and not named.banks
    shown = screen["place"].split("/")[0]
    same = bool(named.mentions) and all(shown in mention.parts or mention.loose for mention in named.mentions)
    if bare and same and not settled.counted:
        found.place_from_screen = True


def _point(found: Slots, pieces: list[str], settled: Settled, parts: Sequence[str]) -> None:
    part = settled.place.split("/")[0] if settled.place else (parts[0] if len(parts) == 1 else "")
    for group in OPPOSITES:
        if sum(1 for piece in pieces if piece in group) > 1:
            found.point_doubt = True
            return
    if part in PARTS:
        for point in PARTS[part]["points"]:
            if set(point.split(", ")) == set(pieces) and pieces:
                found.point = point
                return
        order = point_pieces(part)
        pieces = sorted(pieces, key=lambda piece: order.index(piece) if piece in order else len(order))
    found.point = ", ".join(pieces)


def _values(found: Slots, named: Walk, settled: Settled) -> None:
    values = settled.values
    pair = len(values) == 2 and values[0][0].to and not values[0][0].unit or _same_unit(values)
    if settled.doubt:
        found.maybe = _each(settled.maybe)
    if (halves := _half_behind(values)) is not None:
        found.maybe = [halves]
    found.digits_doubt = _digits_doubt(settled, bool(pair), named.no_reading)
    _unit(found, named, values)
    if values and found.digits_doubt:
        wordings = (text for _, value in values for text in (value.text, *value.maybe) if text)
        found.maybe = _each([*found.maybe, *wordings])
    elif values:
        found.value = values[0][1].text
        if pair:
            found.value_to = values[1][1].text
            found.maybe = [found.value, found.value_to]


def _digits_doubt(settled: Settled, pair: bool, no_reading: bool) -> bool:
    """Whether a person must choose the digits: several numbers that are no pair, or one that can be read two ways."""
    values = settled.values
    if settled.doubt or (len(values) > 1 and not pair) or (values and no_reading):
        return True
    return any(_is_doubtful(run, value) for run, value in values)


def _unit(found: Slots, named: Walk, values: Sequence[tuple[Run, Number]]) -> None:
    units = {run.unit for run, _ in values if run.unit} | set(named.units)
    found.unit = next(iter(units)) if len(units) == 1 and not named.unsure_unit else ""
    found.unit_doubt = named.unsure_unit or len(units) > 1


def _is_doubtful(run: Run, value: Number) -> bool:
    """Several readings; an end that got lost; "two tenths" of nothing; "ten thousandths", which is ten of them or a
    ten-thousandth."""
    if not value.text or run.cut or (value.parts_of and not run.unit_said.startswith("of")):
        return True
    return "thousandth" in run.unit_said and run.tokens[-1].text in ("ten", "hundred")


def _half_behind(values: Sequence[tuple[Run, Number]]) -> str | None:
    """ "three thou and a half"."""
    if len(values) != 2 or not values[0][1].text.isdigit() or values[1][0].unit:
        return None
    whole, point, part = values[1][1].text.partition(".")
    return f"{values[0][1].text}.{part}" if whole == "0" and point and values[0][0].unit else None


def _same_unit(values: Sequence[tuple[Run, Number]]) -> bool:
    """ "fifteen per cent to twenty per cent"."""
    return len(values) == 2 and values[0][0].to and values[0][0].unit == values[1][0].unit


def _each(texts: Sequence[str]) -> list[str]:
    return list(dict.fromkeys(texts))


def _quantity(found: Slots, named: Walk, parts: Sequence[str], with_value: bool) -> None:
    quantities = [_of_part(codes, parts) for codes in named.quantities]
    if with_value:
        quantities += [quantity for _, quantity in named.bending]
    if len(set(quantities)) == 1 and quantities[0] and not named.other_figure:
        found.quantity = quantities[0]
    found.quantity_doubt = bool(quantities) and not found.quantity or named.other_figure


def _of_part(codes: Sequence[str], parts: Sequence[str]) -> str:
    """The one of several quantities that is measured on such a part, "" when that is not plain: a gap of a ring."""
    if len(codes) == 1:
        return codes[0]
    fitting = [code for code in codes if any(part in QUANTITIES[code]["parts"] for part in parts)]
    return fitting[0] if len(fitting) == 1 else ""


def _findings(found: Slots, named: Walk) -> None:
    found.conditions, found.condition_doubt = list(named.conditions), named.condition_doubt
    if not found.value and not found.maybe:
        found.conditions += [word for word, _ in named.bending if word not in found.conditions]
    found.disposition = named.dispositions[0] if len(named.dispositions) == 1 else ""
    found.disposition_doubt = len(named.dispositions) > 1
