"""A line of speech cut into tokens: words, figures, units written after figures, number signs.

A recogniser with a closed vocabulary gives words alone ("eighty eight point nine four"); one that writes freely gives
figures, units and stops ("88.94 mm, scored."). Both come out as one list. Small letters, hyphens between words apart.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS

# More than anybody says in one breath; a longer text is talk, and is not read.
MOST_LETTERS = 2000
MOST_TOKENS = 160

_TABLE = table("spoken")
_LOWER = {code: code + 32 for code in range(65, 91)}
_ALIKE = {
    "\u2019": "'", "\u2018": "'", "\u2010": "-", "\u2011": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-",
    "\u201c": '"', "\u201d": '"', "\u2033": '"', "\u2116": "#", "\u00a0": " ", "\u2009": " ", "\u202f": " ",
    "\u2044": "/", "\u00bd": " 1/2", "\u00bc": " 1/4", "\u00be": " 3/4",
    "\u215b": " 1/8", "\u215c": " 3/8", "\u215d": " 5/8", "\u215e": " 7/8",
}  # fmt: skip


@dataclass(frozen=True)
class Token:
    """`kind`: word, whole, decimal, fraction (figures), unsure (figures that can be read in two ways), ordinal, unit
    (`text` is its code), sign (number sign), minus, plus, to (15-20). `breaks`: a stop stands before it."""

    kind: str
    text: str
    breaks: bool
    raw: str


def _spellings() -> list[tuple[str, str]]:
    pairs = [(spelling, code) for code, unit in UNITS.items() for spelling in unit["written"]]
    return sorted(pairs, key=lambda pair: (-len(pair[0]), pair[0]))


_SAID_WHOLE = {
    word for phrases in (_TABLE["fillers"], *_TABLE["corrections"].values()) for word in " ".join(phrases).split()
}
FIGURES = ("whole", "decimal", "fraction", "unsure")
_SPELLINGS = _spellings()
# Decoders join the words of one entry of their dictionary: "gunged_up".
_blank = re.compile(r"[\x00-\x20_]+")
_figure = re.compile(r"[0-9]+(?:[.,/][0-9]+)*|\.[0-9]+")
_word = re.compile(r"[a-z'\x80-\U0010ffff]+")
_decimal = re.compile(r"([0-9]*)[.,]([0-9]+)")
_thousands = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_over = re.compile(r"[0-9]{1,6}/[0-9]{1,6}")
_ordinal = re.compile(r"(?:st|nd|rd|th)(?![a-z0-9])")
_number_after = re.compile(r"\.?[\x00-\x20]*[0-9]")
_inside_word = re.compile(r"[a-z0-9\xb2\xb3\xb5]")
_minus = re.compile(r"-[\x00-\x20]?\.?[0-9]")


def tokens(text: str) -> list[Token]:
    """The tokens of a line, in order. Never raises; text beyond MOST_LETTERS is not looked at."""
    line = text[:MOST_LETTERS].translate(_LOWER)
    for sign, plain in _ALIKE.items():
        line = line.replace(sign, plain)
    result: list[Token] = []
    at, breaks = 0, False
    while at < len(line) and len(result) <= MOST_TOKENS:
        token, at, breaks = _next(line, at, breaks, result)
        if token is not None:
            result.append(token)
    return result


def _next(line: str, at: int, breaks: bool, before: list[Token]) -> tuple[Token | None, int, bool]:
    """(the token that begins at `at` or None, where to go on, whether a stop was passed)."""
    if before and before[-1].kind in FIGURES and not breaks and (unit := _unit(line, at, before[-1])):
        return Token("unit", unit[1], False, unit[0]), at + len(unit[0]), False
    if blank := _blank.match(line, at):
        return None, blank.end(), breaks
    if figure := _figure.match(line, at):
        return _of_figure(line, figure.group(), figure.end(), breaks)
    if word := _word.match(line, at):
        return _of_word(line, word.group(), word.end(), breaks)
    sign, after = line[at], at + 1
    glued = at > 0 and line[at - 1] not in " \t\n\r"
    if sign == "#":
        return Token("sign", "#", breaks, "#"), after, False
    if sign in '%"':
        follows = bool(before) and before[-1].kind in ("word", *FIGURES) and not breaks
        if sign == "%" and follows:
            return Token("unit", "%", False, "%"), after, False
        return None, after, True
    if sign in ":=":
        return Token("word", "is", breaks, sign), after, False
    if sign == "-":
        return _of_dash(line, at, breaks, glued, before)
    if sign == "+" and _figure.match(line, after):
        return Token("plus", "+", breaks, "+"), after, False
    return None, after, True


def _of_dash(line: str, at: int, breaks: bool, glued: bool, before: list[Token]) -> tuple[Token | None, int, bool]:
    after = at + 1
    figures = bool(before) and before[-1].kind in FIGURES
    if glued and figures and (following := _figure.match(line, after)):
        # 3-1/2 is three and a half; 15-20 is from fifteen to twenty.
        if before[-1].kind == "whole" and _over.fullmatch(following.group()):
            return None, after, False
        return Token("to", "-", breaks, "-"), after, False
    if not glued and _minus.match(line, at):
        return Token("minus", "-", breaks, "-"), after, False
    return None, after, breaks or not glued


def _of_word(line: str, raw: str, after: int, breaks: bool) -> tuple[Token | None, int, bool]:
    text = raw.strip("'")
    if text.endswith("'s") and text not in _SAID_WHOLE:
        # "Bore three's ..." is bore three.
        text = text[:-2].rstrip("'")
    if not text:
        return None, after, breaks
    if text == "no" and line[after : after + 1] == "." and _number_after.match(line, after):
        return Token("sign", "no", breaks, "no."), after + 1, False
    return Token("word", text, breaks, text), after, False


def _of_figure(line: str, raw: str, after: int, breaks: bool) -> tuple[Token | None, int, bool]:
    if raw.isdigit() and (suffix := _ordinal.match(line, after)):
        return Token("ordinal", raw, breaks, raw + suffix.group()), suffix.end(), False
    return Token(_kind(raw), _as_decimal(raw), breaks, raw), after, False


def _unit(line: str, at: int, figure: Token) -> tuple[str, str] | None:
    """(spelling, code) of the unit written behind a figure, the longest one that ends where a word ends."""
    for spelling, code in _SPELLINGS:
        if not line.startswith(spelling, at):
            continue
        if _inside_word.match(spelling[-1]) and _inside_word.match(line, at + len(spelling)):
            continue
        # "crack at valve 3 in the head": a bare "in" is inches only where the figure can be nothing but a size.
        if spelling == "in" and figure.kind == "whole" and line[at - 1] in " \t\n\r":
            continue
        return spelling, code
    return None


def _kind(raw: str) -> str:
    if raw.isdigit():
        return "whole"
    if _over.fullmatch(raw):
        return "fraction"
    if _decimal.fullmatch(raw) and not _thousands.fullmatch(raw):
        return "decimal"
    return "unsure"


def _as_decimal(raw: str) -> str:
    """88,94 and .94 with a point and a figure before it; what is no plain decimal stays as it is."""
    match = _decimal.fullmatch(raw)
    if match is None or _thousands.fullmatch(raw):
        return raw
    return f"{match.group(1) or '0'}.{match.group(2)}"
