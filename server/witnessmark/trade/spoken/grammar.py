"""The grammar of one screen, made from the vocabulary table and the engine: what can be said there, and little else.

A small grammar is understood better, so a screen that asks for a bore knows bores, their points, their diameter and
its units. Another place of the engine can always be named, and what was said can be taken back. Limits and nominal
sizes are not in here: a reading is as likely to be any other.
"""

from __future__ import annotations

from typing import Any

from witnessmark.trade.engine.types import FASTENER_PARTS
from witnessmark.trade.engine.vocabulary import conditions_for
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import QUANTITIES, UNITS
from witnessmark.trade.spoken import jsgf
from witnessmark.trade.spoken import number_rules as spoken_number_rules
from witnessmark.trade.spoken import place_rules as spoken_place_rules
from witnessmark.trade.spoken.jsgf import NOTHING, Rules, Ways, maybe, one_of
from witnessmark.trade.spoken.place_rules import Own
from witnessmark.trade.spoken.pronunciation import dictionary, distinct, pronounceable, token_of
from witnessmark.trade.spoken.words import TABLE, condition_phrases, plain

__all__ = ["dictionary", "grammar", "rules_for", "words_of"]

words_of = jsgf.words_of
Screen = dict[str, Any]
_PROCEDURES = {procedure["code"]: procedure for procedure in table("procedures")["procedures"]}
_SEPARATORS = {"is": 5, "reads": 3, "at": 1, "measures": 1}
_STATES = {"is": 5, "are": 1, "looks": 1}
_HOW = {"badly": 2, "slightly": 2, "heavily": 1, "lightly": 1}
_NOT = {"not": 4, "no": 2, "no sign of": 1}
_UNSURE_UNITS = {"length": ["mil", "mils"], "torque": ["pounds", "newtons"], "pressure": ["pounds"]}
_WITH_THOUSANDS = ("speed", "pressure")


def grammar(screen: Screen, engine_type: dict[str, Any] | None, own: Own = ()) -> str:
    """The grammar of a screen as JSGF 1.0, with one public rule, <line>. Every word of it is in `dictionary`."""
    return rules_for(screen, engine_type, list(own)).text("line")


def rules_for(screen: Screen, engine_type: dict[str, Any] | None, own: Own) -> Rules:
    """The rules behind the grammar, with tags that say what each piece means."""
    rules = Rules()
    # A word of the workshop that nobody can pronounce is never heard; all others are.
    own = [entry for entry in own if pronounceable(entry)]
    line = _Line(rules, screen, engine_type, own)
    sort = screen["sort"]
    if sort == "finding":
        rule = rules.add("finding", line.finding())
    elif sort == "any":
        rule = rules.add("anything", line.anything())
    else:
        rule = rules.add("reading", line.reading())
    loose = [token_of(entry["word"]) for entry in own if entry["means"] == ""]
    before = f"{maybe(rules.add('own', [(1, word) for word in loose]), 1, 10)} " if loose else ""
    # Several ways that say the same are one piece, so that the figures stand in the grammar once.
    again = maybe(one_of([(1, phrase) for phrase in ("no i mean", "i mean", "correction", "sorry")]), 1, 200)
    ways = [(95, f"{before}{again} {rule}"), (5, "<withdraw>")]
    rules.add("withdraw", [(3 if phrase in _COMMON else 1, phrase) for phrase in TABLE["corrections"]["withdraw"]])
    rules.add("line", ways)
    return rules


# More places than these stand in a grammar once, whatever the order: a decoder takes long over a large one.
_MANY_PARTS = 10
_COMMON = ("no scrap that", "scrap that")


class _Line:
    """The parts of a line on one screen."""

    def __init__(self, rules: Rules, screen: Screen, engine_type: dict[str, Any] | None, own: Own) -> None:
        self.rules, self.screen, self.engine_type, self.own = rules, screen, engine_type, own
        self.sort = screen["sort"]
        self.here = screen["place"].split("/")[0]
        self.procedure = _PROCEDURES.get(screen["procedure"])
        self.has = spoken_place_rules.parts_of(engine_type)

    def reading(self) -> Ways:
        """Place, point and quantity in any usual order, then the figures and their unit."""
        parts, quantity, points = self.measured_parts(), self.quantities(), self.points_here()
        place = self.places(parts)
        read = f"{self.separator()} {self.value()}"
        if quantity and len(parts) > _MANY_PARTS:
            return [(1, f"{maybe(quantity, 1, 12)} {maybe(place, 8, 10)} {maybe(quantity, 2, 5)} {read}")]
        # What the screen shows is left out as often as not.
        ways: Ways = [(6, f"{place} {maybe(quantity, 1, 2)}" if quantity else place), (6 if self.here else 1, NOTHING)]
        if quantity:
            ways += [(2, quantity), (1, f"{quantity} {place}")]
        if points:
            ways.append((1, points))
        return [(1, f"{one_of(ways)} {read}")]

    def finding(self) -> Ways:
        """Place, state and what is to be done; a place that the screen shows need not be said."""
        place = self.places(self.of_engine([self.here, *self.has]))
        return [(1, f"{maybe(place, 7, 10) if self.here else place} {self.finding_words()}")]

    def anything(self) -> Ways:
        """A reading or a finding. The places of a whole engine are many, so they stand in the grammar once."""
        place, quantity = self.places(self.of_engine([self.here, *self.has])), self.quantities()
        read = f"{maybe(quantity, 2, 5)} {self.separator()} {self.value()}"
        return [(1, f"{maybe(quantity, 1, 12)} {maybe(place, 8, 10)} {one_of([(3, read), (2, self.finding_words())])}")]

    def separator(self) -> str:
        return maybe(one_of([(n, word) for word, n in _SEPARATORS.items()]), 1, 8)

    def finding_words(self) -> str:
        state, do = self.state(), self.disposition()
        return one_of([(6, f"{state} {maybe(do, 1, 2)}"), (2, do)])

    # Where.

    def measured_parts(self) -> list[str]:
        """The part of the screen, and those where the same is measured."""
        parts = [self.here] if self.here else []
        if self.procedure:
            parts.append(self.procedure["part"])
        elif quantity := QUANTITIES.get(self.screen["quantity"]):
            parts += quantity["parts"]
        if self.sort == "tighten":
            parts += [part for part in FASTENER_PARTS if not self.here]
        return self.of_engine(parts) or self.has

    def of_engine(self, parts: list[str]) -> list[str]:
        return [part for part in dict.fromkeys(parts) if part in self.has]

    def places(self, parts: list[str]) -> str:
        ways: Ways = []
        for part in parts:
            place = spoken_place_rules.place(self.rules, self.engine_type, part, self.own)
            if self.sort != "finding" and (points := self.points(part)):
                place += f" {maybe(points, 3 if part == self.here else 1, 6)}"
            ways.append((4 if part == self.here else 1, place))
        if self.sort == "tighten" and self.here in FASTENER_PARTS:
            ways.append((4, spoken_place_rules.fastener(self.rules, self.engine_type, self.here)))
        return self.rules.add("place", ways)

    def points_here(self) -> str:
        return self.points(self.here) if self.here in self.has else ""

    def points(self, part: str) -> str:
        return spoken_place_rules.points(self.rules, part, self.procedure if part == self._of_procedure() else None)

    def _of_procedure(self) -> str:
        return self.procedure["part"] if self.procedure else ""

    # What.

    def quantities(self) -> str:
        """The rule of what is measured: the one of the screen, or all that the parts in question have."""
        code = self.screen["quantity"]
        if self.sort == "tighten":
            codes = ["torque", "angle"]
        else:
            parts = self.measured_parts()
            codes = (
                [code]
                if code
                else [quantity for quantity in QUANTITIES if set(QUANTITIES[quantity]["parts"]) & set(parts)]
            )
        ways = [
            (2 if at == 0 else 1, f"{phrase} {{quantity {code}}}")
            for code in codes
            for at, phrase in enumerate(
                [*distinct(TABLE["quantities"].get(code, [])), *self.own_for(f"quantity:{code}")]
            )
        ]
        return self.rules.add("quantity", ways) if ways else ""

    def value(self) -> str:
        codes = self.unit_codes()
        kinds = {UNITS[code]["kind"] for code in codes}
        figures = spoken_number_rules.number(self.rules, bool(kinds & set(_WITH_THOUSANDS)))
        # A unit that is seldom said at the bench should not be what an unclear sound ends up as.
        ways = [
            ((3 if at == 0 else 1) * (1 if UNITS[code]["heard"] == "seldom" else 5), f"{phrase} {{unit {code}}}")
            for code in codes
            for at, phrase in enumerate(distinct(UNITS[code]["said"]))
        ]
        unsure = dict.fromkeys(word for kind in sorted(kinds) for word in _UNSURE_UNITS.get(kind, []))
        ways += [(1, word) for word in unsure]
        if not ways:
            return figures
        value = f"{figures} {maybe(self.rules.add('unit', ways), 9, 10)}"
        small = [code for code in ("mm", "in") if code in codes]
        if not small or self.screen["quantity"] == "diameter":
            return value
        of = one_of([(1, f"{UNITS[code]['said'][1]} {{unit {code}}}") for code in small])
        return one_of([(40, value), (1, spoken_number_rules.part_of_unit(self.rules, of))])

    def unit_codes(self) -> list[str]:
        """The units that can be said: those offered on the screen, else all that the quantities may have."""
        if self.screen["units"]:
            codes = self.screen["units"]
        elif self.sort == "tighten":
            codes = [*QUANTITIES["torque"]["units"], *QUANTITIES["angle"]["units"]]
        elif quantity := QUANTITIES.get(self.screen["quantity"]):
            codes = quantity["units"]
        else:
            codes = list(UNITS)
        return [code for code in codes if code in UNITS and code]

    # How it is, and what is to be done.

    def state(self) -> str:
        phrases = condition_phrases()
        usual = conditions_for(self.here)
        ways: dict[str, tuple[int, str]] = {}
        for word in usual:
            for at, phrase in enumerate([*distinct(phrases[word]), *self.own_for(f"condition:{word}")]):
                ways.setdefault(phrase, (3 if at == 0 else 1, f"{phrase} {{condition {word}}}"))
        condition = self.rules.add("condition", list(ways.values()))
        how = one_of([(9, NOTHING), *((n, word) for word, n in _HOW.items())])
        refused = one_of([(n, word) for word, n in _NOT.items()])
        seen = f"{maybe(one_of([(n, word) for word, n in _STATES.items()]), 1, 3)} {maybe(refused, 1, 15)} {how}"
        return self.rules.add("state", [(1, f"{seen} {condition} {maybe(f'and {condition}', 1, 8)}")])

    def disposition(self) -> str:
        ways = [
            (3 if at == 0 else 1, f"{phrase} {{disposition {code}}}")
            for code, phrases in TABLE["dispositions"].items()
            for at, phrase in enumerate([*distinct(map(plain, phrases)), *self.own_for(f"disposition:{code}")])
        ]
        return self.rules.add("disposition", ways)

    def own_for(self, means: str) -> list[str]:
        return [token_of(entry["word"]) for entry in self.own if entry["means"] == means]
