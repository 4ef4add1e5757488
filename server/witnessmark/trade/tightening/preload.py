"""What preload a torque may come to in a bolt: an estimate with the spread that friction brings, never a limit.

Two forms. The short one, F = T / (K·d), is equation 8-27 of Shigley, Mechanical Engineering Design, 9th edition. The
long one is Motosh's (from memory; VDI 2230 has the same sum): F = T / (P/2π + μt·r2/cos 30° + μh·rh). Exact fractions
in SI; what a sheet says in words is made in preload_said.py.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.exact import PI, significant, sqrt
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.tightening.threads import Strength, Thread

LBF = Fraction("4.4482216152605")  # N
FULL_USE = Fraction(9, 10)  # how far VDI 2230 goes towards the yield point

CONDITIONS: dict[str, dict[str, Any]] = {condition["code"]: condition for condition in table("friction")["conditions"]}
STATES: dict[str, str] = table("friction")["states"]
TYPED_SPREAD = Fraction(table("friction")["typed_spread"]) / 100
_COS30 = sqrt(Fraction(3), 30) / 2
_TAN_SUM = Fraction("1.155")  # 1/cos 30° as VDI 2230 prints it


@dataclass(frozen=True)
class Spread:
    """A number that is not known well: what it usually is, and its ends."""

    usual: Fraction
    low: Fraction
    high: Fraction


@dataclass(frozen=True)
class Friction:
    """The torque coefficient K and the coefficients of friction; `condition` is the code of friction.json that what
    was not typed was taken from. `k_typed` and `typed` say what the sheet says itself."""

    condition: str
    k: Spread
    thread: Spread
    head: Spread
    k_typed: bool
    typed: bool


@dataclass(frozen=True)
class Estimate:
    """Preloads in N: by the short form, and by the long one; high where friction is low. `proof` is the load under
    which the bolt must not stay longer, `yields` the one at its yield point, `breaks` the least one that tears it, by
    its stress area, in N; None for a class that is not known."""

    short: Spread
    long: Spread
    proof: Fraction | None
    yields: Fraction | None
    breaks: Fraction | None


def friction_of(state: str, typed: Mapping[str, str]) -> Friction:
    """The friction for a state of the thread (a code of tightening sheets) and what a sheet says of it: {"k", "thread",
    "head"}, decimal text or "". What is typed counts, give or take the usual spread; thread and head go together."""
    condition = STATES[state]
    usual = CONDITIONS[condition]
    both = typed["thread"] != "" and typed["head"] != ""
    k = _typed(typed["k"]) if typed["k"] else _row(usual["k"])
    thread, head = (_typed(typed[name]) if both else _row(usual["friction"]) for name in ("thread", "head"))
    return Friction(condition, k, thread, head, typed["k"] != "", both)


def _row(three: list[str]) -> Spread:
    return Spread(*(Fraction(number) for number in three))


def _typed(text: str) -> Spread:
    amount = Fraction(text)
    if amount <= 0:
        raise Refusal("bad_value", "friction", say("trade.tightening.friction_not_above_zero"))
    return Spread(amount, amount * (1 - TYPED_SPREAD), amount * (1 + TYPED_SPREAD))


def by_coefficient(torque: Fraction, diameter: Fraction, k: Fraction) -> Fraction:
    """The short form: the preload in N of a torque in N·m, with the diameter in m and the torque coefficient."""
    return torque / (k * diameter)


def lever(thread: Thread, in_thread: Fraction, under_head: Fraction) -> Fraction:
    """The long form's length in m, torque over preload: pitch, friction in the thread, friction under the head."""
    pitch = thread.pitch / (2 * PI)
    return pitch + in_thread * thread.pitch_diameter / 2 / _COS30 + under_head * thread.bearing / 2


def estimate(torque: Fraction, thread: Thread, friction: Friction, strong: Strength | None) -> Estimate:
    """The preload that a torque in N·m may come to. Raises Refusal for a torque that tightens nothing."""
    if torque <= 0:
        raise Refusal("bad_value", "target", say("trade.tightening.torque_not_above_zero"))
    k, area = friction.k, thread.stress_area
    # The preload is highest where friction is lowest.
    short = (by_coefficient(torque, thread.diameter, factor) for factor in (k.usual, k.high, k.low))
    pairs = zip(
        *(
            (coefficients.usual, coefficients.high, coefficients.low)
            for coefficients in (friction.thread, friction.head)
        ),
        strict=True,
    )
    long = (torque / lever(thread, in_thread, under_head) for in_thread, under_head in pairs)
    loads = (strong.proof * area, strong.yields * area, strong.tensile * area) if strong else (None, None, None)
    return Estimate(Spread(*short), Spread(*long), *loads)


def at_yield(thread: Thread, yields: Fraction, in_thread: Fraction, use: Fraction = FULL_USE) -> Fraction:
    """The preload in N at which pull and twist together reach `use` of the yield point in Pa, as in VDI 2230 (from
    memory): F = As·use·Rp / √(1 + 3·(3/2·d2/d0·(P/(π·d2) + 1.155·μ))²). The twist is that of tightening."""
    slope = thread.pitch / (PI * thread.pitch_diameter) + _TAN_SUM * in_thread
    twist = Fraction(3, 2) * thread.pitch_diameter / thread.stress_diameter * slope
    return thread.stress_area * use * yields / sqrt(1 + 3 * twist**2)


def advance(pitch: Fraction, degrees: Fraction) -> Fraction:
    """How far a nut that spins freely goes on in m; the bolt's own stretch is smaller, since the parts give way too."""
    return pitch * degrees / 360


def too_much(made: Estimate, thread: Thread, strong: Strength | None) -> dict[str, str]:
    """{"load", "thread", "strength"} in words where a torque cannot be meant for a thread: even with the most friction,
    by both forms, it tears the bolt. Empty where it does not, and for a class that is not known."""
    if strong is None or made.breaks is None or min(made.short.low, made.long.low) <= made.breaks:
        return {}
    return {"load": force_text(made.breaks, thread), "thread": thread.words, "strength": strong.code}


def force_text(amount: Fraction, thread: Thread, shown: Callable[[Fraction, int], str] = significant) -> str:
    """A force in N as it is said: three digits that count, in kN, of a unified thread in lbf too."""
    text = f"{shown(amount / 1000, 3)} kN"
    return f"{text} ({shown(amount / LBF, 3)} lbf)" if thread.form == "unified" else text
