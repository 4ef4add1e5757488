"""What a sheet says over all places of an engine: the highest, the spread, who lags behind."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.units import decimal_text, usual_unit
from witnessmark.trade.measuring import figures
from witnessmark.trade.measuring.figures import Across
from witnessmark.trade.sheets.job import Job, PlaceResult
from witnessmark.trade.sheets.words import amount_text, shown_places, shown_unit, usual_places


def across(
    job: Job, procedure: Mapping[str, Any], at: Mapping[str, PlaceResult], names: Mapping[str, tuple[str, str]],
    rules: Mapping[str, Any],
) -> list[dict[str, Any]]:  # fmt: skip
    """The lines of `across`, each with its value as shown, the places it speaks of and a sentence."""
    rows = []
    for place, result in at.items():
        bank, index = names[place][1], _along_bank(job, place)
        values = {name: value.amount for name, value in result.inputs.items()}
        values |= {figure.code: figure.amount for figure in result.figures}
        rows.append({"place": place, "bank": bank, "index": index, "values": values})
    results = figures.across(procedure, rows, rules)
    return [_shown(result, line, at, names, rules) for result, line in zip(results, procedure["across"], strict=True)]


def _along_bank(job: Job, place: str) -> int:
    """Where in its bank a place lies, from the front: neighbours differ by one."""
    here = next((spot for spot in job.places() if spot.code == place), None)
    if here is None or job.engine_type is None:
        return 0
    bank = next((bank for bank in job.engine_type["banks"] if bank["code"] == here.bank), None)
    if bank is not None and here.cylinder is not None:
        return bank["cylinders"].index(here.cylinder)
    return here.crankpin or here.main or 0


def _shown(
    result: Across, line: Mapping[str, Any], at: Mapping[str, PlaceResult], names: Mapping[str, tuple[str, str]],
    rules: Mapping[str, Any],
) -> dict[str, Any]:  # fmt: skip
    unit, places = _unit(line["of"], at, result.kind, rules)
    if line["do"] == "spread_share":
        unit = "%"
    value = None
    if result.amount is not None:
        if line["do"] == "spread_share":
            value = decimal_text(result.amount * 100, 1)
        else:
            value = amount_text(
                result.amount, unit, places + (line["do"] in ("mean", "under_share", "neighbours_under"))
            )
    return {
        "code": result.code,
        "words": result.words,
        "definition": line["definition"],
        "value": value,
        "unit": unit,
        "places": result.places,
        "words_said": _in_words(result, line, f"{value} {unit}".rstrip(), names, rules) if value is not None else "",
    }


def _unit(of: str, at: Mapping[str, PlaceResult], kind: str, rules: Mapping[str, Any]) -> tuple[str, int]:
    """Unit and decimals as the places show them: the unit of the first, the most decimals of all that share it."""
    typed: list[tuple[str, int]] = []
    for result in at.values():
        typed += [
            (figure.unit, figure.places) for figure in result.figures if figure.code == of and figure.amount is not None
        ]
        if of in result.inputs:
            value = result.inputs[of]
            typed.append((value.unit, value.places if value.places is not None else usual_places(value.unit)))
    if not typed:
        unit = usual_unit(kind)
        return shown_unit(kind, unit, rules), usual_places(unit)
    unit = typed[0][0]
    into = shown_unit(kind, unit, rules)
    return into, shown_places(max(places for its, places in typed if its == unit), unit, into)


def _in_words(
    result: Across, line: Mapping[str, Any], value: str, names: Mapping[str, tuple[str, str]], rules: Mapping[str, Any]
) -> str:
    do, there = line["do"], [names[place][0] for place in result.places]
    if do in ("highest", "lowest"):
        return say("trade.sheets.at_places", value=value, places=", ".join(there))
    if do in ("spread", "spread_share"):
        return say("trade.sheets.between", value=value, first=there[0], second=there[1]) if there else value
    if do == "ranking":
        return say("trade.sheets.ranking", places=", ".join(there))
    if do == "mean":
        return say("trade.sheets.over_all", value=value)
    share = Fraction(rules["compression_share"]) / 100 if line["share"] == "rule" else Fraction(line["share"])
    percent = exact_text(share * 100)
    if do == "under_share":
        if there:
            return say("trade.sheets.under_these", places=", ".join(there), value=value, percent=percent)
        return say("trade.sheets.under_none", value=value, percent=percent)
    pairs = "; ".join(say("trade.sheets.pair", first=names[a][0], second=names[b][0]) for a, b in result.pairs)
    if pairs:
        return say("trade.sheets.under_beside", pairs=pairs, value=value, percent=percent)
    return say("trade.sheets.under_none_beside", value=value, percent=percent)
