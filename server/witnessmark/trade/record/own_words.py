"""The words that a workshop has of its own: names of its engines, habits of its people. They are spoken like any word
of the trade, so grammar, dictionary and parser take them as a list beside their table.

An own word is {"word": text, "sounds_like": [phrases of known words that sound like it], "means": text}; `means` is ""
when it stands only for itself, else "part:<code>", "condition:<word>", "quantity:<code>" or "disposition:<code>".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from witnessmark.trade.ground.tables import table
from witnessmark.trade.record.kinds import KINDS

KIND = "spoken_word_set"

_MEANINGS: dict[str, dict[str, str]] = {
    "part": {part["code"]: part["name"] for part in table("parts")["parts"]},
    "condition": {condition["word"]: condition["word"] for condition in table("vocabulary")["conditions"]},
    "quantity": {quantity["code"]: quantity["words"] for quantity in table("quantities")["quantities"]},
    "disposition": {code: phrase for code, phrase in KINDS["finding_made"].fields["disposition"]["of"].items() if code},
}


_sayable = re.compile(r"[A-Za-z']*[A-Za-z][A-Za-z']*(?:[ -][A-Za-z']*[A-Za-z][A-Za-z']*)*").fullmatch


def sayable(word: str) -> bool:
    """Whether a recogniser can be told of it: words of the letters a to z, with a space or hyphen between. What else a
    phrase may hold nobody could say how to pronounce."""
    return _sayable(word) is not None


def key(word: str) -> str:
    """What two sayings of one word have in common: a later one takes the place of the earlier."""
    return " ".join(word.split()).lower()


def own_words(entries: Iterable[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """The words that count, in the order in which they first came up, from entries {"kind", "body"} in the order of the
    log. The newest for a word counts; a retired one is left out. Entries of other kinds are passed over."""
    newest = {key(entry["body"]["word"]): entry["body"] for entry in entries if entry["kind"] == KIND}
    names = ("word", "sounds_like", "means")
    return [{name: body[name] for name in names} for body in newest.values() if not body["retired"]]


def stands_for(means: str) -> str:
    """ "part:gudgeon_pin" in words: "gudgeon pin"; a code that is not known here stays as it is; "" for ""."""
    sort, _, code = means.partition(":")
    return _MEANINGS.get(sort, {}).get(code, code)


def is_known(means: str) -> bool:
    """Whether there is such a part, condition, quantity or disposition. "" stands for nothing and is fine."""
    sort, _, code = means.partition(":")
    return means == "" or code in _MEANINGS.get(sort, {})
