"""Writes tests/vectors/spoken_grammar.json: what the grammar of each screen must be, on server and phone alike.

    .venv/bin/python -m tests.unit.trade.spoken.make_spoken_grammar_vectors

Run it after a change that is meant, and read the difference before keeping it.
"""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path

from witnessmark.trade.ground.tables import table
from witnessmark.trade.spoken.grammar import dictionary, grammar, words_of
from witnessmark.trade.spoken.pronunciation import example

VECTORS = Path(__file__).parents[3] / "vectors" / "spoken_grammar.json"
ENGINES = {engine["name"]: engine for engine in table("invented_engine_types")["engine_types"]}
V6, FOUR, FLAT, SINGLE = "Halvern 2.9 V6", "Corrie 2.2 four", "Brantholm flat four", "Aldous single"
SHORT = 3200
OWN = [
    {"word": "Halvern", "sounds_like": ["hal burn", "hall urn"], "means": ""},
    {"word": "pot-hole", "sounds_like": ["pot hole"], "means": "condition:pitted"},
    {"word": "big pot", "sounds_like": ["big pot"], "means": "part:bore"},
    {"word": "squeeze", "sounds_like": ["s k w e s"], "means": "quantity:compression"},
    {"word": "skip it", "sounds_like": ["skim it"], "means": "disposition:replace"},
    {"word": "zzyzx", "sounds_like": ["zyzzyva"], "means": "part:piston"},
]


def screen(sort: str, place: str = "", quantity: str = "", procedure: str = "", units: tuple[str, ...] = ()) -> dict:
    return {
        "sort": sort, "place": place, "point": "", "procedure": procedure, "reading": "", "quantity": quantity,
        "units": list(units),
    }  # fmt: skip


CASES = [
    ("a bore in its procedure", screen("measure", "bore/3", "diameter", "cylinder_bore", ("mm", "in")), V6, []),
    ("a crankpin without a procedure", screen("measure", "crankpin/2", "diameter"), FOUR, []),
    ("clearance anywhere", screen("measure", "", "clearance"), FOUR, []),
    ("compression, with words of the workshop", screen("measure", "bore/1", "compression"), FLAT, OWN),
    ("a quantity without a unit", screen("measure", "bore/1", "count"), SINGLE, []),
    ("nothing known but that it is measured", screen("measure"), FLAT, []),
    ("tightening head bolts", screen("tighten", "head_bolt/A/7"), V6, []),
    ("tightening main bolts", screen("tighten", "main_bolt/2/1"), FOUR, []),
    ("a finding at a place", screen("finding", "main_bearing/3"), V6, OWN),
    ("a finding anywhere", screen("finding"), SINGLE, []),
    ("a procedure of the workshop's own", screen("measure", "head/A", "flatness", "own_head"), V6, []),
    ("anything on an engine", screen("any"), FOUR, []),
    ("anything at a part of which nothing is measured", screen("any", "oil_filter"), V6, []),
    ("anything on any engine", screen("any"), "", OWN),
]


def made() -> dict:
    cases = []
    for name, at, engine, own in CASES:
        text = grammar(at, ENGINES.get(engine), own)
        words = words_of(text)
        whole = {"grammar": text, "words": "\n".join(words), "dictionary": dictionary(words, own)}
        # A long one is held by its hash; the short ones are there to be read.
        held = {"lines": {key: its.splitlines() for key, its in whole.items()}} if len(text) < SHORT else {}
        hashes = {key: sha256(its.encode()).hexdigest() for key, its in whole.items()}
        cases.append({"name": name, "screen": at, "engine": engine, "own": own, "sha256": hashes, **held})
    examples = [{"own": entry, "ways": example(entry)} for entry in OWN if entry["word"] != "zzyzx"]
    return {"cases": cases, "examples": examples}


if __name__ == "__main__":
    VECTORS.write_text(json.dumps(made(), ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
