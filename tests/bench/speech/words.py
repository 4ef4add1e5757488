"""The error rate of words, between texts of different habits: 'eighty eight point nine millimetres' is '88.9 mm'."""

from __future__ import annotations

import re

_UNITS = {
    "mm": "millimetres", "millimeters": "millimetres", "millimeter": "millimetre", "um": "microns", "µm": "microns",
    "in": "in", "nm": "newton metres", "%": "percent", "cc": "cc", "rpm": "rpm", "°c": "degrees celsius",
    "meters": "metres", "meter": "metre", "v": "volts", "g": "grams", "°": "degrees",
}  # fmt: skip
_TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_ONES = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
# Both sides are brought to one of two ways to say or write the same.
_SAME = [
    (r"\b(oh|nought|naught)\b", "zero"), (r"\ba hundred\b", "one hundred"), (r"\bhundred and\b", "hundred"),
    (r"\band a half\b", "point five"), (r"\bper cent\b", "percent"), (r"\bp ?s ?i\b", "psi"), (r"\bc ?c\b", "cc"),
    (r"\br ?p ?m\b", "rpm"), (r"\bcrank pin\b", "crankpin"), (r"\brun out\b", "runout"), (r"\bleak down\b", "leakdown"),
    (r"\bcon rod\b", "conrod"), (r"\bcam shaft\b", "camshaft"), (r"\bcrank shaft\b", "crankshaft"),
    (r"\bfly wheel\b", "flywheel"), (r"\bback lash\b", "backlash"), (r"\bre bore\b", "rebore"),
    (r"\bre grind\b", "regrind"), (r"\blabeled\b", "labelled"), (r"\bonto\b", "on to"), (r"\bok\b", "okay"),
    (r"\bpickup\b", "pick up"), (r"\bgage\b", "gauge"), (r"\bbars\b", "bar"), (r"\bfoot pounds?\b", "foot pounds"),
]  # fmt: skip


def number(digits: str) -> str:
    """'88.94' as it is said: 'eighty eight point nine four'."""
    whole, _, rest = digits.replace(",", "").partition(".")
    said = _whole(int(whole)) if whole else ""
    return " ".join([*([said] if said else []), *(["point", *(_ONES[int(d)] for d in rest)] if rest else [])])


def _whole(n: int) -> str:
    if n < 20:
        return _ONES[n]
    if n < 100:
        return _TENS[n // 10] + (f" {_ONES[n % 10]}" if n % 10 else "")
    if n < 1000:
        return f"{_ONES[n // 100]} hundred" + (f" {_whole(n % 100)}" if n % 100 else "")
    if n < 10_000:
        return f"{_whole(n // 1000)} thousand" + (f" {_whole(n % 1000)}" if n % 1000 else "")
    return " ".join(_ONES[int(d)] for d in str(n))


def even(text: str) -> list[str]:
    """The words of a text, written one way."""
    text = text.lower().replace("’", "'").replace("-", " ").replace("#", " ")
    text = re.sub(r"(\d)\s*(mm|nm|um|µm|cc|rpm|psi|bar|thou|%|°c|°|v|g)(?![a-z])", r"\1 \2", text)
    text = re.sub(r"\d[\d,]*\.?\d*|\.\d+", lambda found: f" {number(found.group().rstrip('.,'))} ", text)
    text = " ".join(_UNITS.get(one, one) for one in re.findall(r"[a-zµ']+|%|°c|°", text))
    for pattern, instead in _SAME:
        text = re.sub(pattern, instead, text)
    # '0.04' and 'point oh four'
    return re.sub(r"\bzero point\b", "point", text).split()


def errors(said: str, heard: str) -> tuple[int, int]:
    """(words put in, left out or exchanged; words said), by the fewest changes (Levenshtein)."""
    wanted, got = even(said), even(heard)
    row = list(range(len(got) + 1))
    for i, word in enumerate(wanted, 1):
        before, row[0] = row[0], i
        for j, other in enumerate(got, 1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (word != other))
    return row[-1], len(wanted)
