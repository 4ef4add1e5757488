"""One breath of speech, from its first item to its last: what is named in it, and which numbers may belong to what.

A number that follows a part, a bank or a side at once may be the number of that part, or the value, or both run
together ("bore three eighty eight point nine four"); after a word such as "reads" it is a value. Which of it holds,
the engine decides: see spoken_settle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from witnessmark.trade.engine.types import PARTS
from witnessmark.trade.spoken.items import Item
from witnessmark.trade.spoken.places import Mention
from witnessmark.trade.spoken.text import Token
from witnessmark.trade.spoken.words import CYLINDER_WORDS, DOUBTS, NUMBERS, TABLE, point_pieces

_LETTERS = TABLE["banks"]["letters"]
_NAMED_BY_POINT = TABLE["named_by_point"]
_OF_NUMBERS = {word for sort in ("point", "hundred", "thousand", "repeat") for word in NUMBERS[sort]}
_MANNER = ("slightly", "badly", "heavily", "lightly", "deeply", "very", "quite", "bit")
_JOINING = {"a", "an", "of", "of a", "of an", "of the", "the"}


@dataclass
class Run:
    """One number as it was said. `mention`: the part it may count (-1: none), `must`: it surely does ("number three").
    `unit` said behind it, `unit_said` as it was said, with "of a" before it if so. `to`: the number after it is the
    upper end of a range. `cut`: an "and" without an end follows. `clock`: it is an hour."""

    tokens: tuple[Token, ...]
    mention: int = -1
    must: bool = False
    unit: str = ""
    unit_said: str = ""
    to: bool = False
    cut: bool = False
    clock: bool = False


@dataclass
class Walk:
    """What was named. `points` are (said, pieces it can be), `banks` what banks were called, `left` words without a
    meaning or said not to be so; `known` and `unknown` count the words with and without a meaning."""

    mentions: list[Mention] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    points: list[tuple[str, list[str]]] = field(default_factory=list)
    banks: list[str] = field(default_factory=list)
    maybe_banks: list[tuple[str, str, list[str]]] = field(default_factory=list)
    sides: list[str] = field(default_factory=list)
    quantities: list[list[str]] = field(default_factory=list)
    bending: list[tuple[str, str]] = field(default_factory=list)
    conditions: list[str] = field(default_factory=list)
    dispositions: list[str] = field(default_factory=list)
    units: list[str] = field(default_factory=list)
    other_figure: bool = False
    unsure_unit: bool = False
    condition_doubt: bool = False
    no_reading: bool = False
    doubtful: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    known: int = 0
    unknown: int = 0


class Walker:
    """Goes through the items once; `walk` then holds what was found."""

    def __init__(self, items: Sequence[Item], screen_part: str, settles: bool) -> None:
        self.items = items
        self.settles = settles
        self.screen_part = screen_part
        self.walk = Walk()
        self.open = -1  # the mention that a number said now may count
        self.forward: list[Item] = []  # numbers said before their part: "third", "number three"
        self.awaiting = False  # a number sign was said
        self.negated = False
        self.was_negated = False
        self.by_no = False
        self.doubted = False  # "might be"
        self.between = False

    def go(self) -> Walk:
        for at, item in enumerate(self.items):
            if item.breaks:
                self.negated = self.doubted = False
            handler = getattr(self, f"_on_{item.sort}")
            handler(at, item)
        if self.forward or self.awaiting:
            # "Number three" of nothing: whose number it is must be said.
            self.walk.doubtful.append("place")
            self.walk.left += [item.phrase for item in self.forward]
        return self.walk

    def _on_word(self, at: int, item: Item) -> None:
        if item.phrase in _LETTERS and self._bank_letter_at(at):
            self._bank(item.phrase)
            return
        if item.phrase in ("but", "or"):
            self.negated = item.phrase == "or" and self.was_negated
            return
        if item.phrase in _OF_NUMBERS:
            # "Seventy three point millimetres": a piece of a number got lost.
            self.walk.no_reading = True
        self.walk.unknown += 1
        self.walk.left.append(item.phrase)
        self.open = -1

    def _on_to(self, at: int, item: Item) -> None:
        if self.walk.runs and self.items[at - 1].sort in ("number", "unit"):
            self.walk.runs[-1].to = True
        self.open = -1

    def _on_sign(self, at: int, item: Item) -> None:
        self.awaiting = True

    def _on_ordinal(self, at: int, item: Item) -> None:
        self.forward.append(item)

    def _on_unit(self, at: int, item: Item) -> None:
        self.walk.known += len(item.tokens)
        code = item.meanings[0][1]
        run = self._run_before(at)
        if run is not None and not run.unit:
            run.unit = code
            run.unit_said = " ".join(item.phrase for item in self.items[self._number_before(at) + 1 : at + 1])
        else:
            self.walk.units.append(code)
        self.open = -1

    def _number_before(self, at: int) -> int:
        """Where the number stands that is at once before, "of a" and the like between them; -1 for none."""
        at -= 1
        while at >= 0 and self.items[at].phrase in _JOINING and self.items[at].sort == "phrase":
            at -= 1
        return at if at >= 0 and self.items[at].sort == "number" else -1

    def _run_before(self, at: int) -> Run | None:
        return self.walk.runs[-1] if self.walk.runs and self._number_before(at) >= 0 else None

    def _on_number(self, at: int, item: Item) -> None:
        self.walk.known += len(item.tokens)
        if self.negated:
            self.walk.no_reading = True
        following = self.items[at + 1] if at + 1 < len(self.items) else None
        if self.awaiting and self.open < 0 and self._part_follows(at):
            self.forward.append(item)
            self.awaiting = False
            return
        if self.awaiting and self.open < 0:
            self._of_screen()
        run = Run(item.tokens, self.open, self.awaiting and self.open >= 0)
        run.clock = following is not None and bool(following.means("clock"))
        self.awaiting = False
        self.open = -1
        if self.between and self._split_between(run):
            return
        self.walk.runs.append(run)

    def _of_screen(self) -> None:
        """ "Number three" and no part: one like that on the screen."""
        if self.screen_part in PARTS and not self.walk.mentions:
            self._mention(Mention([self.screen_part]))
        else:
            self.walk.doubtful.append("place")

    def _split_between(self, run: Run) -> bool:
        """ "between fifteen and twenty": two numbers, the second the upper end."""
        self.between = False
        ands = [i for i, token in enumerate(run.tokens) if token.text == "and" and token.kind == "word"]
        if len(ands) != 1 or not 0 < ands[0] < len(run.tokens) - 1:
            return False
        self.walk.runs += [Run(run.tokens[: ands[0]], to=True), Run(run.tokens[ands[0] + 1 :])]
        return True

    def _part_follows(self, at: int) -> bool:
        for item in self.items[at + 1 : at + 4]:
            if item.breaks:
                return False
            if item.means("part") or item.means("fastener"):
                return True
            if not (item.means("side") or item.means("bank") or item.means("bank_word") or item.means("fillers")):
                return False
        return False

    def _on_phrase(self, at: int, item: Item) -> None:
        walk = self.walk
        if item.phrase in _LETTERS and self._bank_letter_at(at):
            self._bank(item.phrase)
            return
        if item.means("fillers") and len(item.meanings) == 1:
            self._on_filler(at, item)
            return
        walk.known += len(item.tokens)
        for sort in ("negations", "clock", "own", "between", "separators", "hedges", "targets", "unsure_units"):
            if item.means(sort):
                getattr(self, f"_is_{sort}")(at, item)
                return
        if not (self._as_point(item) or self._names_a_place(at, item) or self._says_of_a_place(item)):
            walk.left.append(item.phrase)

    def _on_filler(self, at: int, item: Item) -> None:
        after_number = at and self.items[at - 1].sort == "number" and self.walk.runs
        if item.phrase == "and" and not item.breaks and after_number:
            # "Seventeen and a thou", "eight and": the end of it got lost.
            self.walk.runs[-1].cut = True

    def _names_a_place(self, at: int, item: Item) -> bool:
        """A part, a fastener, a side or a bank."""
        walk = self.walk
        if parts := item.means("part"):
            if self.settles and self.screen_part in parts:
                parts = [self.screen_part]
            self._mention(Mention(parts, context=item.phrase in CYLINDER_WORDS))
        elif item.means("fastener"):
            self._mention(Mention([], loose=True))
        elif sides := item.means("side"):
            walk.sides += sides
            self.open = len(walk.mentions) - 1
        elif item.means("bank_word"):
            pass
        elif banks := item.means("bank"):
            self._maybe_bank(at, item, banks[0])
        else:
            return False
        return True

    def _says_of_a_place(self, item: Item) -> bool:
        """A condition, a quantity, figures of another kind, what is to be done, or a point."""
        walk = self.walk
        if conditions := item.means("condition"):
            self._condition(item, conditions[0])
        elif quantities := item.means("quantity"):
            walk.quantities.append(quantities)
            self.open = -1
        elif item.means("other_figures"):
            walk.other_figure = True
            walk.left.append(item.phrase)
            self.open = -1
        elif dispositions := item.means("disposition"):
            self._disposition(item, dispositions[0])
        elif pieces := item.means("point"):
            walk.points.append((item.phrase, pieces))
            self.open = -1
        else:
            return False
        return True

    def _is_negations(self, at: int, item: Item) -> None:
        self.negated, self.by_no = True, item.phrase == "no"
        self.open = -1

    def _is_clock(self, at: int, item: Item) -> None:
        self.open = -1

    def _is_own(self, at: int, item: Item) -> None:
        """A word of the workshop's that is just a word."""
        self.open = -1

    def _is_between(self, at: int, item: Item) -> None:
        self.between = True
        self.open = -1

    def _is_separators(self, at: int, item: Item) -> None:
        self.open = -1

    def _is_hedges(self, at: int, item: Item) -> None:
        self.walk.no_reading = True
        self.doubted |= item.phrase in DOUBTS
        self.open = -1

    _is_targets = _is_hedges

    def _is_unsure_units(self, at: int, item: Item) -> None:
        self.walk.unsure_unit = True
        self.walk.left.append(item.phrase)
        self.open = -1

    def _as_point(self, item: Item) -> bool:
        """A word that names a part and a point: beside the part that has such a point it is the point."""
        pieces = item.means("point")
        named = [_NAMED_BY_POINT[piece] for piece in pieces if piece in _NAMED_BY_POINT]
        if named and not any(named[0] in mention.parts for mention in self.walk.mentions):
            self._mention(Mention(named[:1]))
        if named:
            self.walk.points.append((item.phrase, pieces))
            if self.screen_part in named:
                # On a screen of rings the number behind "top ring" is its gap.
                self.open = -1
            return True
        parts = [part for mention in self.walk.mentions for part in mention.parts]
        if item.means("other_figures") and not parts and self.screen_part:
            parts = [self.screen_part]
        has_point = any(set(pieces) & set(point_pieces(part)) for part in parts if part in PARTS)
        if has_point and (item.means("part") or item.means("other_figures")):
            self.walk.points.append((item.phrase, pieces))
            self.open = -1
            return True
        return False

    def _mention(self, mention: Mention) -> None:
        known = next((other for other in self.walk.mentions if _takes_up(mention, other)), None)
        if known is not None and not self.forward:
            # "Main bearing two, renew the shells": the shells are those.
            known.parts = [part for part in mention.parts if part in known.parts]
            self.open = -1
            return
        same = [
            i
            for i, other in enumerate(self.walk.mentions)
            if other.parts == mention.parts and other.loose == mention.loose
        ]
        if same and not self.forward:
            self.open = same[0] if not self._has_number(same[0]) else len(self.walk.mentions)
            if self.open == same[0]:
                return
        self.walk.mentions.append(mention)
        self.open = len(self.walk.mentions) - 1
        for given in self.forward:
            if given.sort == "ordinal":
                mention.numbers.append(given.meanings[0][1])
                self.walk.known += 1
            else:
                self.walk.runs.append(Run(given.tokens, self.open, must=True))
        self.forward = []

    def _has_number(self, mention: int) -> bool:
        return bool(self.walk.mentions[mention].numbers) or any(run.mention == mention for run in self.walk.runs)

    def _bank_letter_at(self, at: int) -> bool:
        if at == 0 or self.items[at].breaks:
            return False
        before = self.items[at - 1]
        if before.means("bank_word"):
            return True
        banked = any(PARTS[part]["per"] == "bank" or PARTS[part].get("at") == "bank" for part in before.means("part"))
        if not banked or self.items[at].phrase != "a":
            return banked
        following = self.items[at + 1] if at + 1 < len(self.items) else None
        return following is None or following.breaks or not _can_follow_a(following)

    def _bank(self, letter: str) -> None:
        self.walk.known += 1
        self.walk.banks.append(letter)
        self.open = len(self.walk.mentions) - 1

    def _maybe_bank(self, at: int, item: Item, name: str) -> None:
        beside = [self.items[i] for i in (at - 1, at + 1) if 0 <= i < len(self.items)]
        if any(other.means("bank_word") for other in beside):
            self._bank(name)
            return
        self.walk.maybe_banks.append((item.phrase, name, item.means("point")))

    def _condition(self, item: Item, word: str) -> None:
        walk = self.walk
        if self.negated:
            walk.left.append(item.phrase)
            # "Scored no cracked": not cracked, or cracked and not scored?
            walk.condition_doubt |= self.by_no and item.phrase == word and bool(walk.conditions)
            self.negated, self.was_negated = False, True
        elif quantities := item.means("quantity"):
            walk.bending.append((word, quantities[0]))
        elif word not in walk.conditions:
            walk.conditions.append(word)
            walk.condition_doubt |= self.doubted
        self.doubted = False
        self.open = -1

    def _disposition(self, item: Item, code: str) -> None:
        if self.negated:
            self.walk.left.append(item.phrase)
            self.negated = False
        elif code not in self.walk.dispositions:
            self.walk.dispositions.append(code)
        self.open = -1


def _can_follow_a(item: Item) -> bool:
    """ "A crack", "a skim", "a badly ...": then "a" is no bank. In "head a cracked", "head a replace it" it is one."""
    if item.sort == "word":
        return item.phrase != "but"
    thing = item.means("condition") and item.phrase not in item.means("condition")
    return bool(thing) or item.means("disposition") == ["rework"] and len(item.tokens) == 1 or item.phrase in _MANNER


def _takes_up(mention: Mention, before: Mention) -> bool:
    """True when a word with several meanings speaks of what was named before it."""
    return (
        len(mention.parts) > 1
        and len(before.parts) < len(mention.parts)
        and bool(set(mention.parts) & set(before.parts))
    )


def walk(items: Sequence[Item], screen_part: str, settles: bool) -> Walk:
    """What was named in the items, in order. `screen_part`: the part that the phone shows, "" for none; `settles`: it
    is what a word with several meanings means."""
    return Walker(items, screen_part, settles).go()
