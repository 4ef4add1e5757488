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
    result = Slots(left=named.left, known=named.known, unknown=named.unknown, other_figure=named.other_figure)
    parts = _parts(named, shown)
    points = _points(named, parts, engine_type)
    banks = {bank_named(engine_type, letter) for letter in named.banks}
    side = named.sides[0] if len(set(named.sides)) == 1 else ""
    where = Where(named.mentions, next(iter(banks)) if len(banks) == 1 else "", side)
    degrees = _degrees(named, parts, screen)
    settled = settle(named, where, On(places, engine_type, screen["place"]), degrees)
    _place(result, named, settled, screen, banks)
    _point(result, points + [f"{degree} deg" for degree in settled.degrees] + _clock(named), settled, parts)
    _values(result, named, settled)
    part = settled.place.split("/")[0]
    _quantity(result, named, [part] if part else parts, bool(result.value or result.maybe))
    _findings(result, named)
    return result


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
    points: list[str] = []
    for phrase, pieces in named.points:
        fitting = [piece for piece in pieces if piece in has]
        if fitting or not has:
            points.append((fitting or pieces)[0])
        else:
            named.left.append(phrase)
    for phrase, name, pieces in named.maybe_banks:
        if any(piece in has for piece in pieces):
            points.append(next(piece for piece in pieces if piece in has))
        elif bank_named(engine_type, name):
            named.banks.append(name)
        else:
            named.left.append(phrase)
    return list(dict.fromkeys(points))


def _clock(named: Walk) -> list[str]:
    hours = [read(run.tokens) for run in named.runs if run.clock]
    return [f"{hour.text} o'clock" for hour in hours if hour is not None and hour.text]


def _place(result: Slots, named: Walk, settled: Settled, screen: dict[str, Any], banks: set[str]) -> None:
    result.place = settled.place
    result.place_named = bool(named.mentions) or bool(named.banks) or bool(named.sides) or "place" in named.doubtful
    impossible = "" in banks or len(banks) > 1 or len(set(named.sides)) > 1 or "place" in named.doubtful
    if settled.place_doubt or impossible:
        result.place = ""
        return
    if result.place or not screen["place"]:
        return
    # "The bore reads ...": the one on the screen, when no number or side says otherwise.
    bare = all(not mention.numbers for mention in named.mentions) and not named.sides and not named.banks
    shown = screen["place"].split("/")[0]
    same = bool(named.mentions) and all(shown in mention.parts or mention.loose for mention in named.mentions)
    if bare and same and not settled.counted:
        result.place_from_screen = True


def _point(result: Slots, pieces: list[str], settled: Settled, parts: Sequence[str]) -> None:
    part = settled.place.split("/")[0] if settled.place else (parts[0] if len(parts) == 1 else "")
    for group in OPPOSITES:
        if sum(1 for piece in pieces if piece in group) > 1:
            result.point_doubt = True
            return
    if part in PARTS:
        for point in PARTS[part]["points"]:
            if set(point.split(", ")) == set(pieces) and pieces:
                result.point = point
                return
        order = point_pieces(part)
        pieces = sorted(pieces, key=lambda piece: order.index(piece) if piece in order else len(order))
    result.point = ", ".join(pieces)


def _values(result: Slots, named: Walk, settled: Settled) -> None:
    values = settled.values
    pair = len(values) == 2 and values[0][0].to and not values[0][0].unit or _same_unit(values)
    if settled.doubt:
        result.maybe = _each(settled.maybe)
    if (halves := _half_behind(values)) is not None:
        result.maybe = [halves]
    result.digits_doubt = _digits_doubt(settled, bool(pair), named.no_reading)
    _unit(result, named, values)
    if values and result.digits_doubt:
        wordings = (text for _, value in values for text in (value.text, *value.maybe) if text)
        result.maybe = _each([*result.maybe, *wordings])
    elif values:
        result.value = values[0][1].text
        if pair:
            result.value_to = values[1][1].text
            result.maybe = [result.value, result.value_to]


def _digits_doubt(settled: Settled, pair: bool, no_reading: bool) -> bool:
    """Whether a person must choose the digits: several numbers that are no pair, or one that can be read two ways."""
    values = settled.values
    if settled.doubt or (len(values) > 1 and not pair) or (values and no_reading):
        return True
    return any(_is_doubtful(run, value) for run, value in values)


def _unit(result: Slots, named: Walk, values: Sequence[tuple[Run, Number]]) -> None:
    units = {run.unit for run, _ in values if run.unit} | set(named.units)
    result.unit = next(iter(units)) if len(units) == 1 and not named.unsure_unit else ""
    result.unit_doubt = named.unsure_unit or len(units) > 1


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


def _quantity(result: Slots, named: Walk, parts: Sequence[str], with_value: bool) -> None:
    quantities = [_of_part(codes, parts) for codes in named.quantities]
    if with_value:
        quantities += [quantity for _, quantity in named.bending]
    if len(set(quantities)) == 1 and quantities[0] and not named.other_figure:
        result.quantity = quantities[0]
    result.quantity_doubt = bool(quantities) and not result.quantity or named.other_figure


def _of_part(codes: Sequence[str], parts: Sequence[str]) -> str:
    """The one of several quantities that is measured on such a part, "" when that is not plain: a gap of a ring."""
    if len(codes) == 1:
        return codes[0]
    fitting = [code for code in codes if any(part in QUANTITIES[code]["parts"] for part in parts)]
    return fitting[0] if len(fitting) == 1 else ""


def _findings(result: Slots, named: Walk) -> None:
    result.conditions, result.condition_doubt = list(named.conditions), named.condition_doubt
    if not result.value and not result.maybe:
        result.conditions += [word for word, _ in named.bending if word not in result.conditions]
    result.disposition = named.dispositions[0] if len(named.dispositions) == 1 else ""
    result.disposition_doubt = len(named.dispositions) > 1
