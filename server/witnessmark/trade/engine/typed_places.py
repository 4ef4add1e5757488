"""Reading a place that somebody typed or said: "bore 3", "cyl 3", "#3 bore", "main 4", "head bolt a7"."""

from __future__ import annotations

import re
from typing import Any

from witnessmark.trade.engine.locations import SIDES, Place, places
from witnessmark.trade.engine.types import PARTS

_SIDE_WORDS = {
    "in": "inlet", "inl": "inlet", "inlet": "inlet", "intake": "inlet",
    "ex": "exhaust", "exh": "exhaust", "exhaust": "exhaust",
}  # fmt: skip
_FILLERS = {"bank", "no", "nr", "number", "num", "the", "of", "at", "cylinder", "cyl"}
_pieces = re.compile(r"[0-9]+|[^\W\d_]+(?:-[^\W\d_]+)*")


def _aliases() -> list[tuple[str, str]]:
    """(phrase, part) pairs, the longest phrase first, so that "main bearing cap" wins over "main"."""
    pairs = [(phrase.lower(), code) for code, part in PARTS.items() for phrase in (part["name"], *part["also"])]
    pairs += [(code.replace("_", " "), code) for code in PARTS]
    order = list(PARTS)

    def rank(pair: tuple[str, str]) -> tuple[Any, ...]:
        # "valve of cylinder 5" speaks of a valve: cylinder stands for the bore only when nothing else is named.
        return pair[0] in _FILLERS, -len(pair[0].split()), -len(pair[0]), pair[0], order.index(pair[1])

    return sorted(set(pairs), key=rank)


ALIASES = _aliases()


def find_places(engine_type: dict[str, Any], typed: str) -> list[Place]:
    """The places that the typed words may mean, the closest first; none when nothing fits, for type-ahead."""
    parts, tokens = _read(typed)
    if not parts and not tokens:
        return []
    single = len(engine_type["banks"]) == 1
    found = []
    for order, place in enumerate(places(engine_type)):
        if parts and place.part not in parts:
            continue
        missing = _missing(place, tokens, single, engine_type)
        if missing is not None:
            found.append((parts.index(place.part) if parts else 0, missing, order, place))
    return [place for *_, place in sorted(found, key=lambda item: item[:3])]


def read_place(engine_type: dict[str, Any], typed: str) -> Place | None:
    """The one place that the typed words name completely, or None when they name none or more than one."""
    parts, tokens = _read(typed)
    if len(parts) != 1:
        return None
    single = len(engine_type["banks"]) == 1
    exact = [p for p in places(engine_type) if p.part == parts[0] and _missing(p, tokens, single, engine_type) == 0]
    return exact[0] if len(exact) == 1 else None


def _read(typed: str) -> tuple[list[str], list[str]]:
    """(parts it may speak of, index words): "#3 bore" gives (["bore"], ["3"])."""
    words = _pieces.findall(typed.lower().replace("_", " "))
    parts: list[str] = []
    for phrase, part in ALIASES:
        wanted = _pieces.findall(phrase)
        at = next((i for i in range(len(words) - len(wanted) + 1) if words[i : i + len(wanted)] == wanted), None)
        if at is not None:
            parts = [part]
            words = words[:at] + words[at + len(wanted) :]
            break
    else:
        words, parts = _begun(words)
    tokens = [_SIDE_WORDS.get(word, word) for word in words if word not in _FILLERS]
    return parts, tokens


def _begun(words: list[str]) -> tuple[list[str], list[str]]:
    """A part that is only half typed yet: "bor", "oil p"."""
    letters = [word for word in words if not word.isdigit() and word not in _SIDE_WORDS and word not in _FILLERS]
    begun = " ".join(letters)
    if len(begun) < 2:
        return words, []
    parts = list(dict.fromkeys(part for phrase, part in ALIASES if phrase.startswith(begun)))
    order = list(PARTS)
    return ([word for word in words if word not in letters], sorted(parts, key=order.index)) if parts else (words, [])


def _missing(place: Place, tokens: list[str], single_bank: bool, engine_type: dict[str, Any]) -> int | None:
    """How many indices of the place were not typed; None when something typed does not fit it."""
    own = [index.lower() for index in place.indices]
    left = list(own)
    at = 0
    for token in tokens:
        if token.isdigit():
            # Numbers keep their order: in "valve 5 inlet 2" the first is the cylinder.
            position = next((i for i in range(at, len(own)) if own[i] == token), None)
            if position is None:
                return None
            at = position + 1
        elif token not in left:
            return None
        if token not in left:
            return None
        left.remove(token)
    return sum(1 for index in left if not _goes_without_saying(place, index, single_bank, engine_type))


def _goes_without_saying(place: Place, index: str, single_bank: bool, engine_type: dict[str, Any]) -> bool:
    if single_bank and index == place.bank.lower():
        return True
    if place.cylinder is not None and engine_type["cylinders"] == 1 and index == place.indices[0]:
        return True
    if place.part == "camshaft":
        return len(engine_type["camshafts"]) == 1
    sides = [one for one in place.indices if one in SIDES]
    alone = len(place.indices) == 3 and sides and engine_type["valves"].get(sides[0]) == 1
    return bool(alone) and index == place.indices[2]
