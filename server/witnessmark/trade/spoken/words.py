"""The spoken vocabulary: phrases of spoken.json and the tables of the trade in one index, and the workshop's own words.

An own word is {"word": str, "sounds_like": [str], "means": str}; `means` is "" or "part:<code>", "condition:<word>",
"quantity:<code>", "disposition:<code>".
"""

from __future__ import annotations

import itertools
import re
from functools import cache, lru_cache
from typing import Any

from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.engine.vocabulary import plural, singular
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES, UNITS

TABLE: dict[str, Any] = table("spoken")
NUMBERS: dict[str, Any] = TABLE["numbers"]
CYLINDER_WORDS: list[str] = [form for word in TABLE["cylinder_words"] for form in (word, plural(word))]
PROCEDURES: dict[str, Any] = {procedure["code"]: procedure for procedure in table("procedures")["procedures"]}
OPPOSITES: list[list[str]] = TABLE["opposites"]

Meaning = tuple[str, str]
_LETTERS = re.compile(r"[a-z']+|[0-9]+")


def plain(text: str) -> str:
    """A phrase as it is spoken: small letters, hyphens and strokes apart."""
    return " ".join(_LETTERS.findall(text.lower()))


def spoken(text: str) -> list[str]:
    """The spoken forms of a written phrase: "line 1" is "line one", "0 deg" is "zero degrees" or "nought degrees"."""
    options: list[list[str]] = []
    for word in plain(text).split():
        if word.isdigit():
            options.append(_DIGITS_TO_WORDS.get(word, [word]))
        elif word == "deg":
            options.append(["degrees"])
        else:
            options.append([word])
    return [" ".join(form) for form in itertools.product(*options)]


def _digit_words() -> dict[str, list[str]]:
    result: dict[str, list[str]] = {}
    for sort in ("digits", "teens", "tens"):
        for word, digits in NUMBERS[sort].items():
            if word not in ("oh", "o", "naught"):
                result.setdefault(digits, []).append(word)
    return result


_DIGITS_TO_WORDS = _digit_words()


def part_phrases() -> dict[str, list[str]]:
    """What each part is called, by its code: name, what else is said, plain plurals."""
    result = {}
    for code, part in PARTS.items():
        phrases = [plain(phrase) for phrase in (part["name"], *part["also"], *TABLE["parts"].get(code, []))]
        phrases = [phrase for phrase in phrases if phrase not in TABLE["unsure"]]
        result[code] = _with_plurals(phrases)
    return result


def unsure_parts() -> dict[str, list[str]]:
    """Words that more than one part is called by."""
    return {form: codes for phrase, codes in TABLE["unsure"].items() for form in _with_plurals([phrase])}


def quantity_phrases() -> dict[str, list[str]]:
    """What each quantity is called, by its code."""
    return {code: list(TABLE["quantities"].get(code, [])) for code in QUANTITIES}


def unit_phrases() -> dict[str, list[str]]:
    """What each unit is called when it is spoken, by its code; the unit "" has none."""
    return {code: list(unit["said"]) for code, unit in UNITS.items() if code}


def condition_phrases() -> dict[str, list[str]]:
    """What people say for each condition word of vocabulary.json."""
    result = {}
    for condition in table("vocabulary")["conditions"]:
        word = condition["word"]
        result[word] = list(
            dict.fromkeys(plain(phrase) for phrase in (word, *condition["also"], *TABLE["conditions"].get(word, [])))
        )
    return result


def disposition_phrases() -> dict[str, list[str]]:
    """What people say for each disposition, by its code."""
    return {code: list(phrases) for code, phrases in TABLE["dispositions"].items()}


def disposition_words(code: str) -> str:
    return TABLE["disposition_words"].get(code, code)


def point_pieces(part: str) -> list[str]:
    """The pieces that the points of a part are made of, those of its procedures too: top, middle, bottom, thrust, …"""
    return list(_point_pieces().get(part, ()))


@cache
def _point_pieces() -> dict[str, tuple[str, ...]]:
    by_part: dict[str, dict[str, None]] = {code: {} for code in PARTS}
    for code, part in PARTS.items():
        for point in part["points"]:
            for piece in _pieces_of(point):
                by_part[code][piece] = None
    for procedure in PROCEDURES.values():
        for axis in procedure["grid"]:
            for value in axis["values"]:
                by_part[procedure["part"]][value["words"]] = None
    for part, pieces in TABLE["more_points"].items():
        by_part[part] |= dict.fromkeys(pieces)
    for code, readings in TABLE["readings"].items():
        for pieces in readings.values():
            by_part[PROCEDURES[code]["part"]] |= dict.fromkeys(pieces)
    return {code: tuple(pieces) for code, pieces in by_part.items()}


def _pieces_of(point: str) -> list[str]:
    return [point] if point in TABLE["points"] else point.split(", ")


def point_phrases() -> dict[str, list[str]]:
    """What people say for each piece of a point: {"axial": ["axial", "axially", …], "line 1": ["line one"], …}."""
    pieces = dict.fromkeys(piece for pieces_of_part in _point_pieces().values() for piece in pieces_of_part)
    return {piece: list(dict.fromkeys((*spoken(piece), *TABLE["points"].get(piece, [])))) for piece in pieces}


def fastener_phrases() -> list[str]:
    """What any fastener is called: which one it is, the screen or the part beside it says."""
    return _with_plurals(TABLE["fasteners"])


def _with_plurals(phrases: list[str]) -> list[str]:
    forms: dict[str, None] = dict.fromkeys(phrases)
    for phrase in phrases:
        *before, last = phrase.split()
        if last.isalpha():
            forms[" ".join([*before, plural(singular(last))])] = None
    return list(forms)


def all_phrases() -> list[tuple[str, str, str]]:
    """(phrase, sort, code) of the whole table."""
    result: list[tuple[str, str, str]] = []
    for sort, phrases in (
        ("part", part_phrases()), ("quantity", quantity_phrases()), ("unit", unit_phrases()),
        ("condition", condition_phrases()), ("disposition", disposition_phrases()), ("point", point_phrases()),
        ("side", TABLE["sides"]), ("bank", TABLE["banks"]["names"]), ("correction", TABLE["corrections"]),
    ):  # fmt: skip
        result += [(phrase, sort, code) for code, phrases_of_code in phrases.items() for phrase in phrases_of_code]
    # "Ninety degrees" may be an angle as well: spoken_settle knows which.
    result = [row for row in result if not (row[1] == "point" and row[2].endswith(" deg"))]
    result += [(phrase, "part", code) for phrase, codes in unsure_parts().items() for code in codes]
    for phrase in fastener_phrases():
        result += [(phrase, "fastener", "")]
    result += [(phrase, "part", "bore") for phrase in CYLINDER_WORDS]
    result += [(form, "bank_word", "") for word in TABLE["banks"]["words"] for form in (word, plural(word))]
    for sort in ("other_figures", "hedges", "targets", "negations", "separators", "fillers", "unsure_units"):
        result += [(phrase, sort, "") for phrase in TABLE[sort]]
    result += [(phrase, "number_sign", "") for phrase in NUMBERS["number"]]
    result += [(phrase, "clock", "") for phrase in NUMBERS["clock"]]
    result += [(phrase, "to", "") for phrase in NUMBERS["to"]]
    result += [(phrase, "between", "") for phrase in NUMBERS["between"]]
    # "line 1" as a recogniser writes it that uses figures.
    result += [(plain(piece), "point", piece) for piece in point_phrases() if " deg" not in piece]
    return result


def _written_units() -> list[tuple[str, str, str]]:
    """Units as they are written that can be nothing else, for a recogniser that writes words and "mm" in one line."""
    return [
        (spelling, "unit", code)
        for code, unit in UNITS.items()
        for spelling in unit["written"]
        if spelling.isalpha() and spelling.isascii() and len(spelling) > 1 and spelling not in ("in", "um", "pa")
    ]


DOUBTS: list[str] = TABLE["doubts"]
Index = dict[str, list[tuple[tuple[str, ...], tuple[Meaning, ...]]]]


def index(own: list[dict[str, Any]]) -> Index:
    """From the first word of a phrase to (its words, what it can mean), the longest phrase first."""
    return _index(tuple((str(entry["word"]), str(entry["means"])) for entry in own))


@lru_cache(maxsize=32)
def _index(own: tuple[tuple[str, str], ...]) -> Index:
    meanings: dict[tuple[str, ...], dict[Meaning, None]] = {}
    phrases = all_phrases() + _written_units() + [(phrase, sort, code) for phrase, sort, code in TABLE["understood"]]
    for word, means in own:
        sort, _, code = means.partition(":")
        phrases.append((plain(word), sort or "own", code))
    for phrase, sort, code in phrases:
        words = tuple(phrase.split())
        if words:
            meanings.setdefault(words, {})[(sort, code)] = None
    result: Index = {}
    for words in sorted(meanings, key=lambda meaning: (-len(meaning), meaning)):
        result.setdefault(words[0], []).append((words, tuple(meanings[words])))
    return result
