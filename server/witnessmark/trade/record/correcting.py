"""Whether a correction fits the record it corrects."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.record.kinds import KINDS, field_check


def check_correction(correction: Mapping[str, Any], target: Mapping[str, Any]) -> None:
    """Returns when the body of a correction fits the entry it corrects; else raises Refusal.

    It names only fields that this kind of entry has, with values they may hold, and changes something.
    """
    kind = KINDS[target["kind"]]
    changes, location = correction["changes"], correction["location"]
    fields = kind.versions[target["version"]]["body"]
    if not changes and location is None:
        raise Refusal("bad_value", "body.changes", "This correction changes nothing. Name a field or another place.")
    if location is not None and not kind.may_have_location:
        raise Refusal("location", "body.location", f"{kind.words} has no place that could be corrected. Leave it out.")
    for name, value in changes.items():
        if name not in fields:
            known = ", ".join(fields)
            message = f"{kind.words} has no field {name}. It has: {known}."
            raise Refusal("unknown_field", f"body.changes.{name}", message)
        if reason := field_check(fields[name])(value):
            message = f"{kind.words}: {name} {reason}. Type another value."
            raise Refusal("bad_value", f"body.changes.{name}", message)
