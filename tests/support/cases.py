"""Many cases of one promise as one test: every case is judged, and each that fails is reported by its name."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Sequence
from functools import wraps
from typing import Any

import pytest

MOST_SHOWN = 12  # with their traceback; all of them are named


def all_cases(names: str | Sequence[str], cases: Iterable[Any], ids: Callable[[Any], object] | Sequence[str] = ()):
    """Calls the test once for each case, as `pytest.mark.parametrize` would, but within one test.

    `names` are arguments of the test ("case", or "typed, shown"), each case their value or values, `ids` makes a
    case's name out of a value, or holds a name for each. Raises ExceptionGroup of all that fail, and ValueError at once
    if there is no case: nothing would be judged. A fixture that the test takes is the same for all its cases.
    """
    several = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    rows = [_values(case, len(several)) for case in cases]
    if not rows:
        raise ValueError("There is no case to judge.")
    shown = ids if callable(ids) else _short
    labels = list(ids) if not callable(ids) and ids else ["-".join(str(shown(value)) for value in row) for row in rows]

    def decorate(test: Callable[..., None]) -> Callable[..., None]:
        signature = inspect.signature(test)

        @wraps(test)
        def judge(**fixtures: Any) -> None:
            failed: dict[str, Exception] = {}
            for number, (label, row) in enumerate(zip(labels, rows, strict=True), 1):
                try:
                    test(**fixtures, **dict(zip(several, row, strict=True)))
                except (Exception, pytest.fail.Exception) as fault:
                    failed[f"{number}: {label}"] = _named(fault, label)
            if failed:
                message = f"{len(failed)} of {len(rows)} cases fail:\n  " + "\n  ".join(failed) + "\n"
                raise ExceptionGroup(message, list(failed.values())[:MOST_SHOWN])

        kept = [parameter for name, parameter in signature.parameters.items() if name not in several]
        judge.__signature__ = signature.replace(parameters=kept)
        return judge

    return decorate


def _values(case: Any, count: int) -> tuple[Any, ...]:
    if isinstance(case, type(pytest.param())):
        return tuple(case.values)
    return (case,) if count == 1 else tuple(case)


def _short(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 80 else f"{text[:77]}..."


def _named(fault: BaseException, label: str) -> Exception:
    """The fault with its case's name; what `pytest.fail` and `pytest.raises` raise is no Exception and becomes one."""
    if not isinstance(fault, Exception):
        fault = AssertionError(str(fault)).with_traceback(fault.__traceback__)
    fault.add_note(f"case: {label}")
    return fault
