"""Threads of bolts: reading how one is called, its geometry, its stress area, and the strength of its property class.

Profile and diameters after ISO 68-1 and ISO 724, stress area after ISO 898-1; unified threads after ASME B1.1 (from
memory). Exact fractions in SI, with √3 cut off after thirty decimals. Whitworth and other old threads are not known.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.exact import PI, sqrt
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table

METRIC: dict[str, dict[str, Any]] = {thread["size"]: thread for thread in table("threads")["metric"]}
UNIFIED: dict[str, dict[str, str]] = {thread["size"]: thread for thread in table("threads")["unified"]}
CLASSES: list[dict[str, Any]] = table("property_classes")["classes"]

MM = Fraction(1, 1000)
INCH = Fraction(254, 10000)
_MPA = Fraction(10**6)
_KPSI = 1000 * Fraction("4.4482216152605") / INCH**2
_FLANKS = {
    form: {name: Fraction(share) for name, share in shares.items()}
    for form, shares in table("threads")["flanks"].items()
}
_BEARING = Fraction(table("threads")["bearing"])
_SQRT3 = sqrt(Fraction(3), 30)

_metric = re.compile(r"M ?([0-9]{1,3}(?:[.,][0-9]{1,2})?)(?: ?[X×] ?([0-9]{1,2}(?:[.,][0-9]{1,3})?))?").fullmatch
_unified = re.compile(
    r"(?:#([0-9]{1,2})|(?:([0-9])[ -])?([0-9]{1,2})/([1-9][0-9]?)|([1-9]))(?: ?IN| ?\")?"
    r"(?:[ -]([1-9][0-9]?))?(?: ?(UNC|UNF|UN|UNEF))?"
).fullmatch


@dataclass(frozen=True)
class Thread:
    """`words` as it is said ("M10 × 1.5"); diameters and pitch in m, the area in m². `bearing` is the mean diameter of
    the face under the head, `bearing_known` False where it is only taken to be 1.25 diameters. `usual` False for a
    pitch that is not in the table, `coarse` True when the pitch was not said and taken as the coarse one."""

    words: str
    form: str
    diameter: Fraction
    pitch: Fraction
    pitch_diameter: Fraction
    minor_diameter: Fraction
    root_diameter: Fraction
    stress_diameter: Fraction
    stress_area: Fraction
    bearing: Fraction
    bearing_known: bool
    usual: bool
    coarse: bool


@dataclass(frozen=True)
class Strength:
    """Least values in Pa: tensile strength, yield (or 0.2 % proof strength), stress under proof load."""

    code: str
    tensile: Fraction
    yields: Fraction
    proof: Fraction


def thread(size: str, pitch: str = "") -> Thread:
    """The thread called `size`; `pitch` is decimal text in mm, "" for what the size says or the coarse pitch.
    Raises Refusal for a thread that cannot be read or cannot be."""
    bare = " ".join(size.split()).upper()
    typed = Fraction(pitch) * MM if pitch else None
    if typed is not None and typed <= 0:
        raise Refusal("bad_value", "pitch", say("trade.tightening.thread.pitch_not_above_zero"))
    if match := _metric(bare):
        return _metric_thread(size, match, typed)
    if match := _unified(bare):
        return _unified_thread(size, match, typed)
    raise Refusal("bad_value", "size", say("trade.tightening.thread.unknown", size=size.strip()))


def _metric_thread(size: str, match: re.Match[str], typed: Fraction | None) -> Thread:
    number = exact_text(_number(match[1]))
    row = METRIC.get(f"M{number}")
    pitches = [Fraction(pitch) * MM for pitch in row["pitches"]] if row else []
    pitch = _one_pitch(size, _number(match[2]) * MM if match[2] else None, typed)
    coarse = pitch is None
    if pitch is None:
        if not pitches:
            raise Refusal("bad_value", "pitch", say("trade.tightening.thread.coarse_unknown", size=f"M{number}"))
        pitch = pitches[0]
    known = row is not None and row["head"] != ""
    bearing = (Fraction(row["head"]) + Fraction(row["hole"])) / 2 * MM if row and known else None
    words = f"M{number} × {exact_text(pitch / MM)}"
    return _made(words, "metric", Fraction(number) * MM, pitch, bearing, pitch in pitches, coarse)


def _unified_thread(size: str, match: re.Match[str], typed: Fraction | None) -> Thread:
    wire, whole, over, under, inches, count, series = match.groups()
    if wire is not None:
        named, diameter = f"#{wire}", Fraction(60 + 13 * int(wire), 1000)
    elif over is not None:
        named = f"{whole} {over}/{under}" if whole else f"{over}/{under}"
        diameter = int(whole or 0) + Fraction(int(over), int(under))
    else:
        named, diameter = inches, Fraction(inches)
    row = UNIFIED.get(named)
    if count is None and row and series in ("UNC", "UNF"):
        count = row["coarse" if series == "UNC" else "fine"]
    pitch = _one_pitch(size, INCH / int(count) if count else None, typed)
    if pitch is None:
        raise Refusal("bad_value", "size", say("trade.tightening.thread.no_count", size=size.strip()))
    usual = {name: row[line] for name, line in (("UNC", "coarse"), ("UNF", "fine"))} if row else {}
    if series in usual and INCH / int(usual[series]) != pitch:
        about = {"size": size.strip(), "thread": f"{named} {series}", "threads": str(usual[series])}
        raise Refusal("bad_value", "size", say("trade.tightening.thread.wrong_count", **about))
    series_name = next((name for name, each in usual.items() if INCH / int(each) == pitch), "")
    threads = exact_text(INCH / pitch)
    return _made(
        f"{named}-{threads} {series_name or series or ''}".strip(),
        "unified",
        diameter * INCH,
        pitch,
        None,
        series_name != "",
        False,
    )


def _number(text: str) -> Fraction:
    return Fraction(text.replace(",", "."))


def _one_pitch(size: str, inside: Fraction | None, typed: Fraction | None) -> Fraction | None:
    """The pitch of the size's own words before the one beside it; they may differ by the rounding of the latter."""
    if inside is not None and typed is not None and abs(inside - typed) > MM / 100:
        text = exact_text(typed / MM)
        raise Refusal("bad_value", "pitch", say("trade.tightening.thread.two_pitches", size=size.strip(), pitch=text))
    return typed if inside is None else inside


def _made(
    words: str, form: str, diameter: Fraction, pitch: Fraction, bearing: Fraction | None, usual: bool, coarse: bool
) -> Thread:
    height = _SQRT3 / 2 * pitch
    below = {name: diameter - share * height for name, share in _FLANKS[form].items()}
    if pitch <= 0 or below["root"] <= 0:
        raise Refusal("bad_value", "pitch", say("trade.tightening.thread.impossible", thread=words))
    mean = (below["pitch"] + below["root"]) / 2
    return Thread(
        words=words,
        form=form,
        diameter=diameter,
        pitch=pitch,
        pitch_diameter=below["pitch"],
        minor_diameter=below["minor"],
        root_diameter=below["root"],
        stress_diameter=mean,
        stress_area=PI / 4 * mean**2,
        bearing=diameter * _BEARING if bearing is None else bearing,
        bearing_known=bearing is not None,
        usual=usual,
        coarse=coarse,
    )


def strength(code: str, diameter: Fraction) -> Strength | None:
    """The strength of a property class or grade at a diameter in m; None for one that is not known there."""
    bare = " ".join(code.split()).lower()
    for bolt_class in CLASSES:
        if bare not in (bolt_class["code"].lower(), *bolt_class["also"]):
            continue
        length, stress = (MM, _MPA) if bolt_class["system"] == "metric" else (INCH, _KPSI)
        for most, *values in bolt_class["steps"]:
            if diameter <= Fraction(most) * length:
                return Strength(bolt_class["code"], *(Fraction(value) * stress for value in values))
    return None
