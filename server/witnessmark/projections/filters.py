"""What a screen filters by, turned into one query of the word index."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from witnessmark.projections import words as index
from witnessmark.projections.words import phrase, tag
from witnessmark.trade.engine.vocabulary import expand


@dataclass(frozen=True)
class Filters:
    """Records must meet every field that is given; within a field one of its values is enough.

    `places` takes everything held by a place: head/A finds head/A/7. `since` and `until` are days as the devices
    claimed them, both included, YYYY-MM-DD: they narrow what is shown and decide nothing.
    """

    places: Sequence[str] = ()
    kinds: Sequence[str] = ()
    persons: Sequence[str] = ()
    stages: Sequence[str] = ()
    since: str = ""
    until: str = ""
    words: str = ""
    job: str = field(default="", kw_only=True)

    @property
    def are_given(self) -> bool:
        """Whether anything but the job narrows the records."""
        return any((self.places, self.kinds, self.persons, self.stages, self.since, self.until, self.words.strip()))

    def match(self) -> str:
        """The query in the language of SQLite's FTS5; empty without filters."""
        sorts = (
            (index.JOB, [self.job] if self.job else []),
            (index.PLACE, self.places),
            (index.KIND, self.kinds),
            (index.PERSON, self.persons),
            (index.STAGE, self.stages),
        )
        tags = [_any_of(tag(letter, value) for value in values) for letter, values in sorts if values]
        if self.since or self.until:
            tags.append(_any_of(days(self.since, self.until)))
        terms = [f"tags : ({' AND '.join(tags)})"] if tags else []
        if words := word_query(self.words):
            terms.append(f"words : ({words})")
        return " AND ".join(terms)


def word_query(query: str) -> str:
    """What a person typed, each word with its synonyms of the trade; the last word may be unfinished."""
    groups = expand(query)
    unfinished = groups[-1][0] if groups and not query.endswith((" ", '"')) else ""
    return " AND ".join(
        _any_of(phrase(word) + ("*" if word == unfinished and len(word) > 1 else "") for word in group)
        for group in groups
    )


def _any_of(terms: Iterator[str]) -> str:
    terms = list(terms)
    return terms[0] if len(terms) == 1 else f"({' OR '.join(terms)})"


def days(since: str, until: str) -> Iterator[str]:
    """Day tags from `since` to `until` as few prefixes: a whole month or year is one term, not thirty or 365.

    Errors: ValueError when a given day is no day.
    """
    first = _digits(since) if since else 0
    last = _digits(until) if until else 99991231
    while first <= last:
        size = 1
        while first % (size * 10) == 0 and first + size * 10 - 1 <= last and size < 10**8:
            size *= 10
        digits = f"{first:08d}"[: 8 - len(str(size)) + 1]
        yield f"{index.DAY}{digits}" + ("*" if size > 1 else "")
        first += size


def _digits(day: str) -> int:
    return int(date.fromisoformat(day).strftime("%Y%m%d"))
