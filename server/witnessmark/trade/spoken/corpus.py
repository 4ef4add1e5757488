"""What is said in the workshop, by chance and as often as the weights of the grammar say: text to learn from.

A language model counts what follows what. The sentences come from the rules of the screens, so that grammar and model
know the same words; the digits of a value are any digits. Also here: the words given to a recogniser that writes
freely, and the hash that names a vocabulary.
"""

from __future__ import annotations

import hashlib
import json
import random
from collections.abc import Iterator
from typing import Any

from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES
from witnessmark.trade.spoken.grammar import rules_for
from witnessmark.trade.spoken.place_rules import Own, parts_of

# Screens the sentences are of: (how often, Screen without its place). A quantity each, so that units go with it.
_BARE = {"place": "", "point": "", "procedure": "", "reading": "", "units": []}
_FINDINGS, _TIGHTENING = 30, 8
# Of 100 lines: how many are corrected in the same breath.
_CORRECTED = 2


def sentences(engine_type: dict[str, Any] | None, own: Own, count: int, seed: int) -> Iterator[str]:
    """`count` lines as they may be spoken about this engine (None: any engine); the same ones for the same seed."""
    chance = random.Random(seed)
    had = set(parts_of(engine_type))
    screens = [
        (max(1, len(set(quantity["parts"]) & had)), {"sort": "measure", "quantity": code, **_BARE})
        for code, quantity in QUANTITIES.items()
        if set(quantity["parts"]) & had
    ]
    screens += [(_FINDINGS, {"sort": "finding", "quantity": "", **_BARE})]
    screens += [(_TIGHTENING, {"sort": "tighten", "quantity": "", **_BARE})]
    rules = [rules_for(screen, engine_type, own) for _, screen in screens]
    weights = [weight for weight, _ in screens]
    for _ in range(count):
        words, _ = (rule := chance.choices(rules, weights)[0]).walk("line", chance)
        if rule.has("number") and chance.randrange(100) < _CORRECTED:
            words += [chance.choice(("no i mean", "sorry", "correction")), *rule.walk("number", chance)[0]]
        yield " ".join(words)


def prompt(engine_type: dict[str, Any] | None, own: Own) -> str:
    """Words of the trade for a recogniser that writes freely, so that it spells them so. No figure, no value."""
    names = [entry["word"] for entry in own]
    parts = [PARTS[code]["name"] for code in _PROMPTED if code in parts_of(engine_type)]
    return f"{', '.join([*names, *parts, *_PROMPT_WORDS]).capitalize()}."


_PROMPTED = (
    "bore", "piston", "ring", "gudgeon_pin", "rod", "rod_bearing", "crankpin", "main", "main_bearing", "head", "valve",
    "valve_guide", "tappet", "lobe", "camshaft", "thrust_bearing", "head_bolt", "sump",
)  # fmt: skip
_PROMPT_WORDS = (
    "thrust", "axial", "ovality", "end float", "run-out", "leakdown", "swarf", "thou", "microns", "millimetres",
    "newton metres", "psi", "scored", "scuffed", "spalled", "wiped", "fretted", "rebore", "regrind", "renew", "reads",
)  # fmt: skip


def vocabulary_text(own: Own) -> str:
    """All that a vocabulary is made from, as one text: JSON without spaces, in the order of the files."""
    held = [table(name) for name in _TABLES]
    words = [[entry["word"], list(entry["sounds_like"]), entry["means"]] for entry in own]
    return json.dumps([*held, words], ensure_ascii=False, separators=(",", ":"))


_TABLES = ("spoken", "pronunciations", "parts", "quantities", "vocabulary", "procedures")


def vocabulary_hash(own: Own) -> str:
    """SHA-256 in hex of `vocabulary_text`: names the words a transcript was made with."""
    return hashlib.sha256(vocabulary_text(own).encode()).hexdigest()
