"""The words of the trade for searching: what somebody types, and what others call the same thing.

A search for "wrist pin" finds the gudgeon pin. Small and capital letters, accents and plain plurals make no difference.
"""

from __future__ import annotations

import re
import unicodedata

from witnessmark.trade.ground.tables import table

_TABLE = table("vocabulary")
# Proposed for a finding; a technician may always write another word.
CONDITIONS: list[str] = [condition["word"] for condition in _TABLE["conditions"]]

_word = re.compile(r"[^\W_]+(?:[.,][^\W_]+)*")
_LEAST_FOR_PLURAL = 3


def conditions_for(place: str) -> list[str]:
    """All condition words, those that such a part usually shows first: a bolt stretches, a shell is wiped."""
    part = place.split("/")[0]
    usual = [condition["word"] for condition in _TABLE["conditions"] if part in condition["parts"]]
    return usual + [word for word in CONDITIONS if word not in usual]


def words(text: str) -> list[str]:
    """The words of a text as they are compared: lower case, no accents, hyphens apart; 57.02 stays one word."""
    bare = "".join(c for c in unicodedata.normalize("NFD", text.lower()) if not unicodedata.combining(c))
    return _word.findall(bare)


def singular(word: str) -> str:
    """A plain English plural made singular; other words stay as they are."""
    if len(word) <= _LEAST_FOR_PLURAL or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes", "zes")):
        return word[:-2]
    return word[:-1]


def plural(word: str) -> str:
    """The plain plural of a thing; words that are no thing by their ending stay as they are."""
    if len(word) < _LEAST_FOR_PLURAL or not word.isalpha() or word.endswith(("s", "ed", "ly")):
        return word
    if word.endswith(("x", "z", "ch", "sh")):
        return word + "es"
    if word.endswith("y") and word[-2] not in "aeiou":
        return word[:-1] + "ies"
    return word + "s"


def _key(phrase: list[str]) -> str:
    return " ".join(singular(word) for word in phrase)


def _groups() -> dict[str, list[str]]:
    """From the key of a phrase to all phrases that mean the same, itself first."""
    by_key: dict[str, list[str]] = {}
    groups = _TABLE["groups"] + [[condition["word"], *condition["also"]] for condition in _TABLE["conditions"]]
    for group in groups:
        phrases = [" ".join(words(phrase)) for phrase in group]
        for phrase in phrases:
            known = by_key.setdefault(_key(phrase.split()), [phrase])
            known += [other for other in phrases if other not in known]
    return by_key


_SAME = _groups()
_LONGEST = max(len(key.split()) for key in _SAME)


def expand(query: str) -> list[list[str]]:
    """One group for each thing the query names: its phrases mean the same, the typed one first.

    A record matches when it holds a phrase of every group. What stands in "quotation marks" is taken as it is.
    """
    return [
        list(dict.fromkeys([typed, *(form for phrase in same for form in _forms(phrase))]))
        for typed, same in _read(query)
    ]


def also(query: str) -> list[str]:
    """What else is searched for: the other names of the things the query names, each once."""
    named = _read(query)
    typed = {_key(word.split()) for word, _ in named}
    meanings = dict.fromkeys(phrase for _, same in named for phrase in same)
    return [phrase for phrase in meanings if _key(phrase.split()) not in typed]


def _read(query: str) -> list[tuple[str, list[str]]]:
    """(what was typed, phrases that mean the same) for each thing named."""
    result: list[tuple[str, list[str]]] = []
    for index, piece in enumerate(query.split('"')):
        spoken = words(piece)
        if index % 2 == 1:
            if spoken:
                result.append((" ".join(spoken), []))
            continue
        at = 0
        while at < len(spoken):
            length = next((n for n in range(_LONGEST, 0, -1) if _key(spoken[at : at + n]) in _SAME), 1)
            length = min(length, len(spoken) - at)
            phrase = spoken[at : at + length]
            result.append((" ".join(phrase), _SAME.get(_key(phrase), [_key(phrase)])))
            at += length
    return result


def _forms(phrase: str) -> list[str]:
    """A phrase as one thing and as several."""
    *before, last = phrase.split()
    return [phrase, " ".join([*before, plural(singular(last))])]
