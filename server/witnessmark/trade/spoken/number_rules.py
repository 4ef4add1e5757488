"""How figures are said, as rules of a grammar: eighty eight point nine four, point oh two, three and a half.

Every digit is as likely as every other and nothing here knows what is expected. "eighty eight nine four", without its
point, can be said as well, so that a decoder is not driven to hear a point; the parser then asks.
"""

from __future__ import annotations

from witnessmark.trade.spoken.jsgf import NOTHING, Rules, either, maybe, one_of
from witnessmark.trade.spoken.words import NUMBERS

# Words that sound like another of the same meaning are left to one of them.
_ALIKE = ("o", "naught", "num", "nr")
_NOUGHTS = {"oh": 6, "zero": 3, "nought": 1}


def counted(number: int) -> str:
    """A whole number from 1 to 99 as it is said: "seventeen", "forty two"."""
    if number < 10:
        return _spoken("digits", str(number))
    if number < 20:
        return _spoken("teens", str(number))
    ten = _spoken("tens", str(number // 10 * 10))
    return f"{ten} {_spoken('digits', str(number % 10))}" if number % 10 else ten


def _spoken(sort: str, digits: str) -> str:
    return next(word for word, its in NUMBERS[sort].items() if its == digits and word not in _ALIKE)


def number(rules: Rules, thousands: bool) -> str:
    """The rule of a value, <number>. `thousands`: engine speeds and pressures have them."""
    if rules.has("number"):
        return "<number>"
    digits = [word for word, its in NUMBERS["digits"].items() if its != "0"]
    rules.add("digit", [(1, word) for word in digits])
    rules.add("nought", [(_NOUGHTS[word], word) for word in NUMBERS["digits"] if word in _NOUGHTS])
    rules.add("figure", [(9, "<digit>"), (1, "<nought>")])
    rules.add("teen", [(1, word) for word in NUMBERS["teens"]])
    rules.add("ten", [(1, word) for word in NUMBERS["tens"]])
    rules.add("tens", [(10, "<teen>"), (80, f"<ten> {maybe('<digit>', 9, 10)}")])
    rules.add("below", [(1, "<digit>"), (3, "<tens>")])
    hundreds = f"{one_of([(9, '<digit>'), (1, 'a')])} hundred {maybe('(and | <NULL>) <below>', 9, 10)}"
    rules.add("hundreds", [(1, hundreds)])
    whole = [(30, "<digit>"), (60, "<tens>"), (12, "<hundreds>")]
    if thousands:
        rules.add(
            "thousands", [(1, f"<below> thousand {one_of([(2, NOTHING), (4, '<digit> hundred'), (1, '<hundreds>')])}")]
        )
        whole.append((12, "<thousands>"))
    rules.add("whole", whole)
    third = f"<figure> {maybe('<figure>', 1, 5)}"
    second = f"<figure> {maybe(third, 2, 5)}"
    rules.add("after", [(1, f"point <figure> {maybe(second, 3, 4)}")])
    ways = [
        (40, "<whole> <after>"),
        (30, "<whole>"),
        (20, f"{maybe('<nought>', 1, 3)} <after>"),
        (4, "<whole> and a half"),
        (3, f"<digit> <figure> {maybe('<after>', 2, 3)}"),
        (2, "<tens> <figure> <figure>"),
    ]
    return rules.add("number", [(1, f"{maybe('minus', 1, 60)} ({either(ways)})")])


def part_of_unit(rules: Rules, unit: str) -> str:
    """Two hundredths of a millimetre."""
    parts = "((a | one) (tenth | hundredth) | <below> (tenths | hundredths))"
    return rules.add("part_of_unit", [(1, f"{parts} of a {unit}")])
