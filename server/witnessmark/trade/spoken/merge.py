"""What was said first and what was said anew, as one: a correction replaces what it says again and leaves the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from witnessmark.trade.spoken.slots import Slots


def merged(segments: Sequence[tuple[str, Slots]]) -> Slots:
    """All breaths of a line as one."""
    whole = segments[0][1]
    for correction, slots in segments[1:]:
        if correction == "withdraw":
            whole = replace(slots, withdrawn=slots.empty)
        elif correction == "unsure":
            whole = _unsure(whole, slots)
        else:
            whole = _replaced(whole, slots)
    return whole


def _unsure(before: Slots, after: Slots) -> Slots:
    """ "piston three cracked, scrap that": the words or the piston? Without a thing that can be scrapped, the words."""
    if before.conditions or before.place:
        return replace(before, disposition="", disposition_doubt=True)
    return replace(after, withdrawn=True)


def _replaced(before: Slots, after: Slots) -> Slots:
    whole = replace(
        before,
        left=before.left + after.left,
        known=before.known + after.known,
        unknown=before.unknown + after.unknown,
        other_figure=before.other_figure or after.other_figure,
    )
    if after.place_named or after.place_from_screen:
        whole.place, whole.place_named = after.place, after.place_named
        whole.place_from_screen = after.place_from_screen
        if not after.point:
            # The same height and direction, on another bore.
            whole.point = before.point if before.place.split("/")[0] == after.place.split("/")[0] else ""
    if after.point or after.point_doubt:
        whole.point, whole.point_doubt = after.point, after.point_doubt
    if after.quantity or after.quantity_doubt:
        whole.quantity, whole.quantity_doubt = after.quantity, after.quantity_doubt
    if after.value or after.digits_doubt:
        _replace_value(whole, before, after)
    if after.unit or after.unit_doubt:
        whole.unit, whole.unit_doubt = after.unit, after.unit_doubt
    if after.conditions:
        whole.conditions, whole.condition_doubt = after.conditions, after.condition_doubt
    if after.disposition or after.disposition_doubt:
        whole.disposition, whole.disposition_doubt = after.disposition, after.disposition_doubt
    return whole


def _replace_value(whole: Slots, before: Slots, after: Slots) -> None:
    whole.value, whole.value_to = after.value, after.value_to
    whole.digits_doubt, whole.maybe = after.digits_doubt, after.maybe
    left, point, decimals = before.value.partition(".")
    if not after.value or not point or left in ("0", "-0"):
        return
    # "eighty eight point nine four, no, nine five": the end of it anew, or the whole?
    if "." not in after.value:
        ends = [f"{left}.{after.value}"] if len(after.value) <= len(decimals) else []
    elif after.value.startswith("0."):
        ends = [f"{left}.{after.value[2:]}"]
    else:
        return
    whole.maybe = [*ends, after.value]
    whole.value, whole.value_to, whole.digits_doubt = "", "", True
