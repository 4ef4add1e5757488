"""Which of the numbers said is the number of the part and which the value: every way to take them is tried on the
engine, and one is taken only when it is the only one that fits. What stays in doubt is offered, not chosen."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from witnessmark.trade.engine.locations import Place
from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.spoken.numbers import Number, is_fraction_word, natural, read, spelled
from witnessmark.trade.spoken.places import Mention, Where, resolve
from witnessmark.trade.spoken.text import Token
from witnessmark.trade.spoken.walk import Run, Walk

_MOST_WAYS = 400
_LONGEST_INDEX = 3


@dataclass(frozen=True)
class Taken:
    """One way to take one number: the first so many count parts, the rest is the value. `shaky`: the same words are
    one number as well ("three point nine")."""

    indices: tuple[str, ...] = ()
    value: Number | None = None
    degrees: str = ""
    shaky: bool = False


@dataclass
class Settled:
    """`place` "" when none or not one; `counted`: a number was taken for it. `values` are those of the chosen way with
    the runs they come from; `doubt`: several ways fit, or the words can be one number; `maybe` what was meant then."""

    place: str = ""
    values: list[tuple[Run, Number]] = field(default_factory=list)
    degrees: list[str] = field(default_factory=list)
    counted: bool = False
    doubt: bool = False
    place_doubt: bool = False
    maybe: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class On:
    """What the engine and the screen say: `places` None without an engine type."""

    places: list[Place] | None
    engine_type: dict[str, Any] | None
    on_screen: str


def settle(walk: Walk, where: Where, on: On, degrees: Sequence[str]) -> Settled:
    """The place and the values. `degrees`: the degrees that are points of the part here ("90" of a journal)."""
    runs = [run for run in walk.runs if not run.clock]
    ways = [_ways(run, walk.mentions, degrees) for run in runs]
    count = 1
    for some in ways:
        count *= max(1, len(some))
    if count > _MOST_WAYS or any(not some for some in ways):
        return Settled(doubt=bool(runs), place_doubt=bool(walk.mentions))
    best: list[tuple[tuple[int, ...], str, tuple[Taken, ...]]] = []
    for way in itertools.product(*ways):
        place = _place(walk, where, on, runs, way)
        rank = _rank(walk, runs, way, place)
        if best and rank > best[0][0]:
            best = []
        if not best or rank == best[0][0]:
            best.append((rank, place, way))
    return _chosen(runs, walk, best)


def _place(walk: Walk, where: Where, on: On, runs: Sequence[Run], way: Sequence[Taken]) -> str:
    if not walk.mentions:
        return ""
    mentions = [replace(mention, numbers=list(mention.numbers)) for mention in walk.mentions]
    for run, taken in zip(runs, way, strict=True):
        if run.mention >= 0:
            mentions[run.mention].numbers += taken.indices
    return resolve(on.places, on.engine_type, replace(where, mentions=mentions), on.on_screen)


def _rank(walk: Walk, runs: Sequence[Run], way: Sequence[Taken], place: str) -> tuple[int, ...]:
    values = [taken.value for taken in way if taken.value is not None]
    ranges = sum(1 for i, run in enumerate(runs[:-1]) if run.to and way[i].value and way[i + 1].value)
    return (
        int(bool(place) or not walk.mentions),
        int(len(values) - ranges <= 1),
        int(all(value.text for value in values)),
        int(not any(taken.shaky for taken in way)),
    )


def _chosen(runs: Sequence[Run], walk: Walk, best: Sequence[tuple[tuple[int, ...], str, tuple[Taken, ...]]]) -> Settled:
    _, place, way = best[0]
    result = Settled(place=place, degrees=[taken.degrees for taken in way if taken.degrees])
    result.values = [(run, taken.value) for run, taken in zip(runs, way, strict=True) if taken.value is not None]
    result.counted = any(taken.indices for taken in way)
    others = [(other_place, other) for _, other_place, other in best[1:]]
    if any(other_place != place for other_place, _ in others):
        result.place, result.place_doubt = "", True
    if others or any(taken.shaky for taken in way):
        result.doubt = True
        every = [way, *(other for _, other in others)]
        result.maybe = [
            number.value.text for some in every for number in some if number.value is not None and number.value.text
        ]
        for run, taken in zip(runs, way, strict=True):
            whole = read(run.tokens)
            if taken.shaky and whole is not None:
                result.maybe += [whole.text, *whole.maybe]
                result.place, result.place_doubt = "", True
    _unfilled(runs, walk, way, result)
    return result


def _unfilled(runs: Sequence[Run], walk: Walk, way: Sequence[Taken], settled: Settled) -> None:
    """A whole number behind a part that lacks its number ("cylinder 68 %") may hold both."""
    for run, taken in zip(runs, way, strict=True):
        if run.mention < 0 or taken.indices or taken.value is None or settled.place:
            continue
        text = taken.value.text
        if not text.isdigit():
            continue
        mention = walk.mentions[run.mention]
        settled.place_doubt = settled.place_doubt or not mention.loose or len(text) == 1
        if len(run.tokens) == 1 and run.tokens[0].kind == "whole":
            settled.doubt = True
            settled.maybe += [text, *(text[i:] for i in range(1, len(text)) if text[i] != "0")]
        elif len(text) == 1:
            settled.doubt = True
            settled.maybe.append(text)


def _ways(run: Run, mentions: Sequence[Mention], degrees: Sequence[str]) -> list[Taken]:
    most = 0 if run.mention < 0 else max((_most_numbers(part) for part in mentions[run.mention].parts), default=1)
    if run.mention >= 0 and mentions[run.mention].loose:
        most = 2
    ways: list[Taken] = []
    for indices, rest in _heads(run.tokens, most):
        if run.must and not indices:
            continue
        if not rest:
            if not run.unit:
                ways.append(Taken(indices))
            continue
        value = read(rest)
        if value is None:
            continue
        shaky = bool(indices) and _can_join(rest[0]) and not run.must
        if run.unit == "°" and value.text in degrees:
            ways.append(Taken(indices, None, value.text, shaky))
        else:
            ways.append(Taken(indices, value, "", shaky))
    return ways


def _most_numbers(part: str) -> int:
    per = PARTS[part]["per"]
    if per in ("whole", "once", "bank", "manifold"):
        return 0
    return 2 if per in ("valve", "lobe", "camshaft") or PARTS[part].get("at") in ("main", "cylinder") else 1


def _can_join(token: Token) -> bool:
    """A token that may go on with the number before it as well as begin one."""
    return token.kind == "fraction" or (token.kind == "word" and token.text in ("point", "decimal", "dot"))


def _heads(tokens: tuple[Token, ...], most: int) -> list[tuple[tuple[str, ...], tuple[Token, ...]]]:
    """Every split into up to `most` numbers that may count parts, and the rest. A number said as one is not cut."""
    heads: list[tuple[tuple[str, ...], tuple[Token, ...]]] = [((), tokens)]
    if most == 0 or not tokens:
        return heads
    for text, used in _first_numbers(tokens):
        rest = tokens[used:]
        if rest and rest[0].kind == "word" and rest[0].text == "and":
            continue
        heads += [((text, *indices), left) for indices, left in _heads(rest, most - 1)]
    return heads


def _first_numbers(tokens: tuple[Token, ...]) -> list[tuple[str, int]]:
    result = []
    text, used = natural(tokens)
    if (
        used
        and text.isdigit()
        and len(text) <= _LONGEST_INDEX
        and text[0] != "0"
        and not is_fraction_word(tokens, used)
    ):
        result.append((text, used))
    two = spelled(tokens[:2])
    if len(tokens) > 1 and two and (two, 2) not in result:
        result.append((two, 2))
    return result
