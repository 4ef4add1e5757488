"""What people read: sentences and words in the workshop's language, out of data/sentences/<language>.json.

A key is "<section>.<key>": `say("trade.bank_twice", code="A")`. Whole numbers are written as the language writes them;
text is filled in as it is, so that a measured value keeps every digit as it was typed. A sentence with several wordings
takes the one whose plural form (Unicode CLDR) fits the whole number `count`.

The environment names the language once for the whole process: WITNESSMARK_LANGUAGE, English where it names none.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterable, Mapping
from decimal import localcontext
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from babel import Locale


FOLDER = Path(__file__).resolve().parent.parent / "data" / "sentences"
ENGLISH = "en"

_slot = re.compile(r"\{([a-z0-9_]+)\}")


def languages() -> list[str]:
    """The languages there is a file for."""
    return sorted(path.stem for path in FOLDER.glob("*.json"))


@cache
def language() -> str:
    """The workshop's language: the name of one of the files."""
    wanted = os.environ.get("WITNESSMARK_LANGUAGE", "") or ENGLISH
    if wanted not in languages():
        raise LookupError(f"WITNESSMARK_LANGUAGE is {wanted!r}; there are {', '.join(languages())}.")
    return wanted


@cache
def _catalogue(name: str) -> dict[str, Any]:
    return json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))


@cache
def locale() -> Locale:
    """How the language writes numbers and lists."""
    # Brought in late: a process that only says plain sentences, such as one that hears, does without it.
    from babel import Locale

    return Locale.parse(_catalogue(language())["language"], sep="-")


@cache
def _wording(key: str) -> str | dict[str, str]:
    """The wording of a key; English where the language has none yet. Raises KeyError for a key that nobody wrote."""
    section, _, name = key.partition(".")
    for catalogue in (_catalogue(language()), _catalogue(ENGLISH)):
        if name in catalogue.get(section, {}):
            return catalogue[section][name]
    raise KeyError(key)


class Sentence(str):
    """A sentence that knows its `key` and what filled its slots, for programs that want to tell faults apart."""

    __slots__ = ("filled", "key")
    key: str
    filled: dict[str, Any]


def say(key: str, /, **filled: Any) -> Sentence:
    """The sentence of a key with its slots filled. Raises KeyError for an unknown key and for a slot left open."""
    wording = _wording(key)
    if isinstance(wording, dict):
        form = locale().plural_form(filled["count"])
        wording = wording.get(form, wording["other"])
    sentence = Sentence(_slot.sub(lambda slot: _text(filled[slot[1]]), wording))
    sentence.key, sentence.filled = key, filled
    return sentence


def _text(value: Any) -> str:
    return count_text(value) if type(value) is int else str(value)


def count_text(count: int) -> str:
    """A whole number as the language writes it: "1,200"."""
    if -1000 < count < 1000:
        return str(count)
    from babel.numbers import format_decimal

    # A fault may speak of a number of any length that somebody sent; decimals stop at 28 digits otherwise.
    with localcontext(prec=max(28, count.bit_length())):
        return format_decimal(count, locale=locale())


def listed(items: Iterable[str], style: Literal["standard", "or"] = "standard") -> str:
    """ "1, 2 and 3", with the style "or" "1, 2 or 3"."""
    from babel.lists import format_list

    return format_list(list(items), style=style, locale=locale())


def table_words(name: str) -> Mapping[str, str]:
    """Words of a table in the workshop's language, by their path; none in English, where the table has its own."""
    return _catalogue(language()).get("tables", {}).get(name, {})


def worded(table: Any, words: Mapping[str, str]) -> Any:
    """The table with these words in place of its own. A path names keys, and in a list an item's code, word or number:
    "procedures/cylinder_bore/figures/ovality/words"."""
    for path, text in words.items():
        *steps, last = path.split("/")
        place = table
        for step in steps:
            place = place[step] if isinstance(place, dict) else place[_index(place, step)]
        place[last if isinstance(place, dict) else _index(place, last)] = text
    return table


def _index(items: list[Any], step: str) -> int:
    named = (
        n for n, item in enumerate(items) if isinstance(item, dict) and step in (item.get("code"), item.get("word"))
    )
    index = next(named, None)
    return int(step) if index is None else index
