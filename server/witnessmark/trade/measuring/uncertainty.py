"""The uncertainty of a figure, from the gauges and readings that it comes from, as a budget that a person can read.

After JCGM 100:2008 (the GUM): every source gives a variance, the weight of a reading carries it into the figure, the
variances are added. All of it is exact; a root is taken only to show a number. The sources:

    scatter            of repeats, s^2/n with n-1 degrees of freedom
    repeatability      in its place for a single reading, where the gauge's has been studied; where it has not, the
                       budget says that nothing is known of the scatter
    resolution         r^2/12. Of scatter (or repeatability) and resolution the larger counts, not both: scatter has
                       the resolution in it (usual in the Geometrical Product Specifications, from memory)
    permissible error  a^2/3. The errors of one gauge are taken as all alike or as each for itself, whichever gives
                       more: alike, they stay in a mean; each for itself, they stay in a difference
    temperature        of part and gauge, and what is not sure of their expansion, rectangular, grouped in the same way

Two groupings are enough: with one degree of likeness between all of them the variance runs straight from the one to
the other, so the larger end bounds it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.amounts import exact_text
from witnessmark.trade.ground.exact import significant, sqrt
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS, to_si
from witnessmark.trade.measuring.gauges import InSi
from witnessmark.trade.measuring.limits import MATERIALS

REFERENCE = Fraction(20)  # °C, at which sizes hold (ISO 1)
GAUGE_EXPANSION = Fraction(table("materials")["gauge"]["alpha"]) / 10**6
# A shorter length grows too little, in a workshop, for its temperature to be worth a word.
SHORT = Fraction(10, 1000)

_COLUMNS = table("coverage")["columns"][1:]
INFINITE = dict(zip(_COLUMNS, map(Fraction, table("coverage")["infinite"]), strict=True))
# (degrees of freedom, column -> factor), the fewest first
ROWS = [(row[0], dict(zip(_COLUMNS, map(Fraction, row[1:]), strict=True))) for row in table("coverage")["rows"]]

# What a budget calls its sources.
SOURCES = {
    "scatter": say("trade.measuring.source_scatter"),
    "repeatability": say("trade.measuring.source_repeatability"),
    "resolution": say("trade.measuring.source_resolution"),
    "permissible error": say("trade.measuring.source_error"),
    "temperature": say("trade.measuring.source_temperature"),
}

MOST_FREEDOM = ROWS[-1][0]  # from here on more of them change no digit that counts


@dataclass(frozen=True)
class Made:
    """How one reading came about: its repeats in SI, the gauge they were taken with (None when nobody knows it),
    temperatures in °C, the coefficient of expansion of the part per kelvin, each None when not taken or not known.
    `words` ("top, thrust") and `unit` are for sentences; empty ones are made from `code` and the gauge. `as_read`: not
    to be brought to 20 °C although it could, because others that go into the same figures cannot."""

    code: str
    amounts: tuple[Fraction, ...]
    gauge: InSi | None
    gauge_name: str
    part_c: Fraction | None
    gauge_c: Fraction | None
    alpha: Fraction | None
    words: str = ""
    unit: str = ""
    as_read: bool = False


@dataclass(frozen=True)
class Share:
    """What one source gives: its variance in the figure, its degrees of freedom (None: as many as you like), and the
    identifier of the gauge it belongs to, "" for none."""

    source: str
    words: str
    variance: Fraction
    freedom: int | None = None
    gauge: str = ""


@dataclass(frozen=True)
class Line:
    """A line of the budget; `share` is its part of the whole variance."""

    source: str
    words: str
    variance: Fraction
    share: Fraction


@dataclass(frozen=True)
class Budget:
    """The variance of a figure (None when a source is unknown: `unknown` says which), its effective degrees of freedom
    (None for infinite), the factor k for about 95 %, and the lines, largest first."""

    variance: Fraction | None
    dof: int | None
    k: Fraction
    lines: list[Line]
    unknown: list[str]


def combine(weights: Mapping[str, Fraction], made: Mapping[str, Made], rules: Mapping[str, Any]) -> Budget:
    """The budget of a figure. `weights` are its partial derivatives by the readings, `made` the readings by the same
    names, `rules` the workshop's measuring rules."""
    unknown = unknowns(weights, made)
    if unknown:
        return Budget(None, None, factor(None), [], unknown)
    budget = shares(weights, made, rules)
    variance, dof = total(budget)
    lines = [
        Line(share.source, share.words, share.variance, share.variance / variance if variance else Fraction(0))
        for share in budget
    ]
    lines.sort(key=lambda line: -line.variance)
    return Budget(variance, dof, factor(dof), lines, [])


def factor(dof: int | None, column: str = "k") -> Fraction:
    """The factor of data/coverage.json for so many degrees of freedom, those of the row below between two rows."""
    if dof is None:
        return INFINITE[column]
    return next(row[column] for freedom, row in reversed(ROWS) if freedom <= dof)


def total(budget: Iterable[Share]) -> tuple[Fraction, int | None]:
    """The variance of all shares and their effective degrees of freedom (JCGM 100:2008, G.4, Welch and Satterthwaite),
    cut to a whole number, at most MOST_FREEDOM."""
    variance, spread = Fraction(0), Fraction(0)
    for share in budget:
        variance += share.variance
        if share.freedom is not None:
            spread += share.variance**2 / share.freedom
    return variance, min(int(variance**2 / spread), MOST_FREEDOM) if spread else None


def freedom_text(dof: int | None) -> str:
    """Degrees of freedom in words: "∞", "5", "10000 or more"."""
    if dof is None:
        return "∞"
    return say("trade.measuring.freedom_or_more", freedom=str(dof)) if dof == MOST_FREEDOM else str(dof)


def mean(made: Made) -> Fraction:
    return sum(made.amounts, Fraction(0)) / len(made.amounts)


def scatter(made: Made) -> Fraction:
    """s^2, the square of the standard deviation of single readings; 0 for fewer than two."""
    middle, n = mean(made), len(made.amounts)
    return sum(((amount - middle) ** 2 for amount in made.amounts), Fraction(0)) / (n - 1) if n > 1 else Fraction(0)


def expansion(material: str) -> Fraction | None:
    """The coefficient of expansion of a material of data/materials.json, per kelvin; None for another."""
    return Fraction(MATERIALS[material]["alpha"]) / 10**6 if material in MATERIALS else None


def corrected(made: Made, rules: Mapping[str, Any]) -> Fraction:
    """The mean of the repeats as it would be at 20 °C. Corrected only where it is a length and the temperatures of part
    and gauge and the material are known: part of them would be a guess at the rest. The gauge is taken to be steel."""
    if not at_reference(made) or made.part_c is None or made.gauge_c is None or made.alpha is None:
        return mean(made)
    gauge = 1 + GAUGE_EXPANSION * (made.gauge_c - REFERENCE)
    return mean(made) * gauge / (1 + made.alpha * (made.part_c - REFERENCE))


def at_reference(made: Made) -> bool:
    """Whether a reading is brought to 20 °C."""
    return not made.as_read and _can_correct(made) and None not in (made.part_c, made.gauge_c, made.alpha)


def is_long(made: Made) -> bool:
    """Whether a reading is a length that grows enough for its temperature to matter."""
    return _can_correct(made) and abs(mean(made)) >= SHORT


def gauge_of(made: Made) -> InSi:
    """The gauge of a reading for which `unknowns` had nothing to say."""
    assert made.gauge is not None, "unknown gauges are told before shares are counted"
    return made.gauge


def reading_words(made: Made) -> str:
    return made.words or made.code.split(":")[-1].replace("/", ", ")


def width_text(width: Fraction, unit: str, show: Callable[[Fraction, int], str] = significant) -> str:
    """A width (an error, a scatter) in SI as two digits that count, with the unit."""
    return f"{show(width / step(unit), 2)} {unit}".rstrip()


def error_text(gauge: InSi) -> str:
    """The permissible error of a gauge: "± 0.003 mm"."""
    return f"± {exact_text(gauge['mpe'] / step(gauge['unit']))} {gauge['unit']}".rstrip()


def unknowns(weights: Mapping[str, Fraction], made: Mapping[str, Made]) -> list[str]:
    """Why the uncertainty cannot be known, a sentence for each gauge; none when it can."""
    alike: dict[str, list[Made]] = {}
    for name, weight in weights.items():
        if weight and (reason := _unknown(made[name], "")):
            alike.setdefault(reason, []).append(made[name])
    return [_unknown(those[0], "; ".join(map(reading_words, those))) for those in alike.values()]


def _unknown(made: Made, points: str) -> str:
    """Why the error of a reading is not known, said of these points; "" when it is known."""
    if made.gauge is None and made.gauge_name:
        return say("trade.measuring.not_registered", gauge=made.gauge_name, points=points)
    if made.gauge is None:
        return say("trade.measuring.no_gauge_named", points=points)
    if made.unit and (wanted := UNITS[made.unit]["kind"]) != (kind := made.gauge["kind"]):
        name = made.gauge["name"]
        return say("trade.measuring.gauge_of_other_kind", gauge=name, kind=kind, wanted=wanted, points=points)
    return ""


def shares(weights: Mapping[str, Fraction], made: Mapping[str, Made], rules: Mapping[str, Any]) -> list[Share]:
    """Every share in the variance of a figure whose gauges are all known: repeats, then resolution and permissible
    error by gauge, then temperature."""
    taken = [(weight, made[name]) for name, weight in weights.items() if weight]
    budget: list[Share] = []
    resolution: dict[str, list[Fraction]] = {}
    repeatability: dict[str, list[Fraction]] = {}
    errors: dict[str, list[Fraction]] = {}
    gauges: dict[str, InSi] = {}
    unstudied: dict[str, None] = {}
    for weight, reading in taken:
        gauge = gauge_of(reading)
        gauges[gauge["id"]] = gauge
        errors.setdefault(gauge["id"], []).append(weight * gauge["mpe"])
        n, floor = len(reading.amounts), gauge["resolution"] ** 2 / 12
        studied = (gauge["repeatability"] or Fraction(0)) ** 2
        if n == 1 and gauge["repeatability"] is None:
            unstudied[gauge["name"]] = None
        if n > 1 and scatter(reading) / n > floor:
            budget.append(_scatter(weight, reading))
        elif n == 1 and studied > floor:
            repeatability.setdefault(gauge["id"], []).append(weight**2 * studied)
        else:
            resolution.setdefault(gauge["id"], []).append(weight**2 * floor)
    for id, gauge in gauges.items():
        name, unit = gauge["name"], gauge["unit"]
        if id in repeatability:
            width = width_text(gauge["repeatability"] or Fraction(0), unit)
            words = say("trade.measuring.share_repeatability", gauge=name, width=width)
            budget.append(Share("repeatability", words, sum(repeatability[id]), gauge=id))
        if id in resolution:
            finest = f"{exact_text(gauge['resolution'] / step(unit))} {unit}".rstrip()
            words = say("trade.measuring.share_resolution", gauge=name, step=finest)
            budget.append(Share("resolution", words, sum(resolution[id]), gauge=id))
        if gauge["mpe"]:
            words = say("trade.measuring.share_error", gauge=name, error=error_text(gauge))
            budget.append(Share("permissible error", words, _rectangular(errors[id]), gauge=id))
    return budget + _unseen(list(unstudied)) + _temperature(taken, rules)


def _unseen(gauges: Sequence[str]) -> list[Share]:
    """Single readings show no scatter: where the gauge's was not studied either, the budget says what it leaves out."""
    if not gauges:
        return []
    return [Share("scatter", say("trade.measuring.share_unstudied", gauges=", ".join(gauges)), Fraction(0))]


def _scatter(weight: Fraction, reading: Made) -> Share:
    n, s2 = len(reading.amounts), scatter(reading)
    shown = width_text(sqrt(s2), reading.unit or gauge_of(reading)["unit"])
    words = say("trade.measuring.share_scatter", readings=n, point=reading_words(reading), scatter=shown)
    return Share("scatter", words, weight**2 * s2 / n, n - 1)


def _rectangular(widths: Sequence[Fraction]) -> Fraction:
    """The variance of half widths that are all alike or each for itself, whichever is more."""
    return max(sum(widths, Fraction(0)) ** 2, sum((width * width for width in widths), Fraction(0))) / 3


def _temperature(taken: Sequence[tuple[Fraction, Made]], rules: Mapping[str, Any]) -> list[Share]:
    known = [(weight, reading) for weight, reading in taken if at_reference(reading)]
    left = [reading for _, reading in taken if is_long(reading) and not at_reference(reading)]
    result = []
    if known:
        kelvin = rules["temperature_half_width"]
        per_cent = rules["expansion_half_width"]
        variance = _warmth(known, Fraction(kelvin), Fraction(per_cent) / 100)
        words = say("trade.measuring.share_temperature", kelvin=kelvin, percent=per_cent)
        result.append(Share("temperature", words, variance))
    if left:
        result.append(Share("temperature", _not_corrected(left), Fraction(0)))
    return result


def _not_corrected(left: Sequence[Made]) -> str:
    if any(reading.as_read for reading in left):
        return say("trade.measuring.as_read_not_all")
    temperatures = [reading.part_c for reading in left] + [reading.gauge_c for reading in left]
    if None not in temperatures:
        return say("trade.measuring.as_read_material")
    if all(temperature is None for temperature in temperatures):
        return say("trade.measuring.as_read_not_taken")
    return say("trade.measuring.as_read_not_both")


def _warmth(known: Sequence[tuple[Fraction, Made]], kelvin: Fraction, share: Fraction) -> Fraction:
    """Four sources: the temperatures of parts and gauges, the expansion of each material and of the gauges."""
    parts, gauges, steel = [], [], []
    metals: dict[Fraction, list[Fraction]] = {}
    for weight, reading in known:
        alpha, part_c, gauge_c = (
            reading.alpha or Fraction(0),
            reading.part_c or Fraction(0),
            reading.gauge_c or Fraction(0),
        )
        length = weight * mean(reading)
        parts.append(length * alpha * kelvin)
        gauges.append(length * GAUGE_EXPANSION * kelvin)
        steel.append(length * GAUGE_EXPANSION * share * (gauge_c - REFERENCE))
        metals.setdefault(alpha, []).append(length * alpha * share * (part_c - REFERENCE))
    return sum((_rectangular(widths) for widths in (parts, gauges, steel, *metals.values())), Fraction(0))


def _can_correct(made: Made) -> bool:
    kind = UNITS[made.unit]["kind"] if made.unit else made.gauge["kind"] if made.gauge else ""
    return kind == "length"


def step(unit: str) -> Fraction:
    """One step of a unit in SI, without its offset."""
    return to_si(Fraction(1), unit) - to_si(Fraction(0), unit)
