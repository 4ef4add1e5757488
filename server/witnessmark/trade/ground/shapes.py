"""What a single field of an entry may hold. Each shape of kinds.json becomes one small function, made once.

A check answers None when the value is fine, else the reason in words ("is longer than 500 characters").
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime
from functools import cache
from typing import Any

from witnessmark.trade.ground import units
from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

Check = Callable[[Any], "str | None"]

LARGEST_WHOLE = 2**53 - 1  # beyond it a phone's numbers lose their last digit (RFC 8785 3.2.2.3, I-JSON)
ZERO_HASH = "0" * 64

_uuid = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}").fullmatch
_uuid7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}").fullmatch
_hash = re.compile(r"[0-9a-f]{64}").fullmatch
_decimal = re.compile(r"-?(0|[1-9][0-9]{0,15})(\.[0-9]{1,15})?").fullmatch
_key = re.compile(r"(?:[A-Za-z0-9+/]{4}){20,300}(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?").fullmatch
_letter = re.compile(r"[A-Z]{1,2}").fullmatch
_place = re.compile(r"[a-z][a-z0-9_]*(?:/[A-Za-z0-9_]+){0,5}").fullmatch
_time = re.compile(
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]\.[0-9]{3}"
    r"(?:Z|[+-](?:[01][0-9]|2[0-3]):[0-5][0-9])"
).fullmatch
# Line ends and tabs are part of what people write; other control characters and halves of a character are not text.
_not_text = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]").search


def uuid(value: Any) -> str | None:
    return None if type(value) is str and _uuid(value) else say("trade.ground.not_uuid")


def uuid_or_nothing(value: Any) -> str | None:
    return None if value == "" or (type(value) is str and _uuid(value)) else say("trade.ground.not_uuid")


def uuid7(value: Any) -> str | None:
    return None if type(value) is str and _uuid7(value) else say("trade.ground.not_uuid7")


def hash64(value: Any) -> str | None:
    return None if type(value) is str and _hash(value) else say("trade.ground.not_hash")


def decimal(value: Any) -> str | None:
    return None if type(value) is str and _decimal(value) else say("trade.ground.not_decimal")


def key(value: Any) -> str | None:
    return None if type(value) is str and _key(value) else say("trade.ground.not_key")


def letter(value: Any) -> str | None:
    return None if type(value) is str and _letter(value) else say("trade.ground.not_letter")


def place(value: Any) -> str | None:
    if type(value) is str and len(value) <= 80 and _place(value):
        return None
    return say("trade.ground.not_place")


def time(value: Any) -> str | None:
    """RFC 3339 with milliseconds and an offset: 2026-05-14T10:38:07.120+01:00."""
    if type(value) is str and _time(value):
        try:
            datetime.fromisoformat(value)
            return None
        except ValueError:
            pass
    return say("trade.ground.not_time")


def yes_no(value: Any) -> str | None:
    return None if value is True or value is False else say("trade.ground.not_yes_no")


@cache
def text(most: int, least: int = 0) -> Check:
    """Text of `least` to `most` characters, counted as Unicode code points."""
    too_long = say("trade.ground.too_long", most=most)
    too_short = say("trade.ground.empty")

    def check(value: Any) -> str | None:
        if type(value) is not str:
            return say("trade.ground.not_text")
        if len(value) > most:
            return too_long
        if len(value) < least or (least and not value.strip()):
            return too_short
        if not value.isprintable() and _not_text(value):
            return say("trade.ground.not_characters")
        return None

    return check


def whole(lowest: int = 0, highest: int = LARGEST_WHOLE) -> Check:
    reason = say("trade.ground.not_whole", lowest=lowest, highest=highest)
    # A bool is an int to Python; an entry that says true for a count is wrong.
    return lambda value: None if type(value) is int and lowest <= value <= highest else reason


def choice(words: dict[str, str]) -> Check:
    allowed = frozenset(words)
    reason = say("trade.ground.none_of", known=", ".join(repr(word) for word in words))
    return lambda value: None if type(value) is str and value in allowed else reason


def texts(most: int, each: int) -> Check:
    fault_of = text(each, 1)

    def check(value: Any) -> str | None:
        if type(value) is not list:
            return say("trade.ground.not_list")
        if len(value) > most:
            return say("trade.ground.too_many", most=most)
        for item in value:
            if reason := fault_of(item):
                return say("trade.ground.bad_item", reason=reason)
        return None if len(set(value)) == len(value) else say("trade.ground.twice")

    return check


def amount(most: int, least: int = 0) -> Check:
    """A typed value, kept as typed, that the arithmetic can read: 57.02, -0,02, 3 1/2, also with its unit."""
    typed = text(most, least)

    def check(value: Any) -> str | None:
        if reason := typed(value):
            return reason
        try:
            units.read(value)
        except Refusal:
            return say("trade.ground.not_amount")
        return None

    return check


def nothing_or(check: Check) -> Check:
    return lambda value: None if value is None else check(value)


_point = text(80)


def location(value: Any) -> str | None:
    """Null, or exactly {"place": code, "point": text}."""
    if value is None:
        return None
    if type(value) is not dict or len(value) != 2 or "place" not in value or "point" not in value:
        return say("trade.ground.not_location")
    if reason := place(value["place"]):
        return say("trade.ground.bad_place", reason=reason)
    if reason := _point(value["point"]):
        return say("trade.ground.bad_point", reason=reason)
    return None


_free_text = text(8000)


def plain(value: Any, depth: int = 0) -> str | None:
    """A value that may stand in an entry at all: text, whole number, yes/no, nothing, or a list or object of them."""
    if type(value) is str:
        return _free_text(value)
    if value is None or type(value) is bool:
        return None
    if type(value) is int:
        return None if abs(value) <= LARGEST_WHOLE else say("trade.ground.too_large")
    if type(value) is float:
        return say("trade.ground.fraction")
    if depth == 6:
        return say("trade.ground.too_deep")
    if type(value) is list:
        items = value
    elif type(value) is dict and all(type(name) is str for name in value):
        items = list(value.values())
    else:
        return say("trade.ground.no_kind")
    return next((reason for item in items if (reason := plain(item, depth + 1))), None)


def changes(value: Any) -> str | None:
    """At most 40 fields with their new values; whether the fields exist is checked against the entry they correct."""
    if type(value) is not dict:
        return say("trade.ground.not_changes")
    if len(value) > 40:
        return say("trade.ground.too_many_changes")
    for name in value:
        if reason := plain(value[name], 1):
            return say("trade.ground.bad_field", field=name, reason=reason)
    return None


_RESULT: dict[str, Check] = {
    "engine": text(60, 1),
    "version": text(60, 1),
    "model": text(120, 1),
    "model_sha256": hash64,
    "sort": choice({"closed": "", "free": ""}),
    "denoised": yes_no,
    "vocabulary": hash64,
    "text": text(16000),
    "confidence": whole(0, 100),
}
_MOST_RESULTS, _MOST_WORDS, _LONGEST_MS = 12, 5000, 86_400_000
_heard_word, _heard_at, _heard_share = text(80, 1), whole(0, _LONGEST_MS), whole(0, 100)


def transcripts(value: Any) -> str | None:
    """What recognisers heard in one sound, one result for each: the fields of _RESULT and "words", a list of
    [word, from ms, to ms, confidence in percent] in the order of their beginnings. The hashes are those of the model's
    file and of the vocabulary that the recogniser was given."""
    if type(value) is not list:
        return say("trade.ground.not_list")
    if len(value) > _MOST_RESULTS:
        return say("trade.ground.too_many_results", most=_MOST_RESULTS)
    results = set()
    for result in value:
        if reason := _of_result(result):
            return say("trade.ground.bad_result", reason=reason)
        results.add((result["engine"], result["model_sha256"]))
    return None if len(results) == len(value) else say("trade.ground.results_alike")


def _of_result(result: Any) -> str | None:
    if type(result) is not dict or result.keys() != {*_RESULT, "words"}:
        return say("trade.ground.result_fields", fields=", ".join(_RESULT))
    for name, check in _RESULT.items():
        if reason := check(result[name]):
            return say("trade.ground.bad_field", field=name, reason=reason)
    words = result["words"]
    if type(words) is not list or len(words) > _MOST_WORDS:
        return say("trade.ground.too_many_words", most=_MOST_WORDS)
    before = 0
    for word in words:
        if type(word) is not list or len(word) != 4:
            return say("trade.ground.bad_word")
        word_text, begins, ends, share = word
        if _heard_word(word_text) or _heard_at(begins) or _heard_at(ends) or _heard_share(share):
            return say("trade.ground.bad_word")
        if not before <= begins <= ends:
            return say("trade.ground.words_unordered")
        before = begins
    return None


_means = re.compile(r"(?:part|condition|quantity|disposition):[^: ][^:]{0,59}").fullmatch


def means(value: Any) -> str | None:
    """What a word of the workshop stands for: "" (only itself) or part:<code>, condition:<word>, quantity:<code>,
    disposition:<code>. Whether there is such a code is for whoever takes the word in: tables grow, entries stay."""
    if type(value) is str and not _free_text(value) and (value == "" or _means(value)):
        return None
    return say("trade.ground.not_means")


_SIMPLE: dict[str, Check] = {
    "uuid": uuid,
    "hash": hash64,
    "decimal": decimal,
    "key": key,
    "letter": letter,
    "yes_no": yes_no,
    "location": location,
    "changes": changes,
    "transcripts": transcripts,
    "means": means,
}


def shape(spec: dict[str, Any]) -> Check:
    """The check that a field description of kinds.json asks for; special ones (`stage` …) are added by kinds."""
    sort = spec["is"]
    if sort == "text":
        check = text(spec["most"], spec.get("least", 0))
    elif sort == "amount":
        check = amount(spec["most"], spec.get("least", 0))
    elif sort == "whole":
        check = whole(spec["from"], spec["to"])
    elif sort == "choice":
        check = choice(spec["of"])
    elif sort == "texts":
        check = texts(spec["most"], spec["each"])
    elif sort == "uuid" and spec.get("empty"):
        check = uuid_or_nothing
    else:
        check = _SIMPLE[sort]
    return nothing_or(check) if spec.get("null") else check
