"""The lines of a procedure judged: operations, names, axes and kinds of value that fit.

What an operation does is said in trade/measuring/procedures.py; this file says what it takes and which kind comes out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from witnessmark.trade.ground import shapes
from witnessmark.trade.ground.errors import Fault
from witnessmark.trade.ground.sentences import listed, say
from witnessmark.trade.ground.tables import table
from witnessmark.trade.ground.units import UNITS

OPERATIONS: dict[str, dict[str, Any]] = {figure["do"]: figure for figure in table("operations")["figures"]}
ACROSS: dict[str, dict[str, Any]] = {operation["do"]: operation for operation in table("operations")["across"]}
KINDS = list(dict.fromkeys(unit["kind"] for unit in UNITS.values()))
# Degrees Celsius and Fahrenheit have their zero elsewhere: a difference of two temperatures is no temperature.
ZERO_ELSEWHERE = {unit["kind"] for unit in UNITS.values() if "offset" in unit}
PURE = ("number", "share")
_KEEP = ("taken", "largest", "smallest", "mean", "nearest")

_is_code = re.compile(r"[a-z][a-z0-9_]{0,39}").fullmatch
_is_fraction = re.compile(r"-?[0-9]{1,9}(/[1-9][0-9]{0,8})?").fullmatch
_is_share = re.compile(r"[0-9]{1,9}(/[1-9][0-9]{0,8})?").fullmatch
_words = shapes.text(80, 1)
_definition = shapes.text(500)
_guide_words = shapes.text(200, 1)
_FIGURE = ("code", "words", "kind", "do", "of", "along", "by", "definition", "guide")
_ACROSS = ("code", "words", "do", "of", "share", "definition")


@dataclass(frozen=True)
class Name:
    """What a name of a procedure stands for: the kind of its value (None while that is in doubt) and its sort:
    reading, size, set, text or figure."""

    kind: str | None
    sort: str


def check_figures(
    figures: list[Any], names: dict[str, Name], axes: dict[str, int], grid: list[str], faults: list[Fault]
) -> None:
    """Adds the faults of the lines of `figures`, and their names to `names`."""
    codes = [line.get("code") if type(line) is dict else None for line in figures]
    for index, figure in enumerate(figures):
        where, line, before = f"figures.{index}", say("trade.measuring.line", number=index + 1), len(faults)
        if type(figure) is not dict or figure.keys() != set(_FIGURE):
            faults.append(Fault(where, say("trade.measuring.line_fields", line=line, fields=", ".join(_FIGURE))))
            if type(figure) is dict and type(figure.get("code")) is str:
                names.setdefault(figure["code"], Name(None, "figure"))
            continue
        line = _head(where, line, figure, names, faults)
        known_kind = type(figure["kind"]) is str and figure["kind"] in KINDS
        if not known_kind:
            faults.append(Fault(f"{where}.kind", say("trade.measuring.line_kind", line=line, kinds=", ".join(KINDS))))
        later = [code for code in codes[index:] if type(code) is str]
        kinds = _of(where, line, figure["of"], names, grid, later, faults)
        _operation(where, line, figure, kinds, axes, known_kind, faults)
        _guide(where, line, figure["guide"], names, later, faults)
        if type(figure["code"]) is str and figure["code"] not in names:
            # The kind of a faulty line is in doubt: lines that use it are not blamed for it.
            names[figure["code"]] = Name(figure["kind"] if len(faults) == before else None, "figure")


def _head(where: str, line: str, described: dict[str, Any], names: dict[str, Name], faults: list[Fault]) -> str:
    code = described["code"]
    if type(code) is not str or not _is_code(code):
        faults.append(Fault(f"{where}.code", say("trade.measuring.line_code", line=line)))
    else:
        line = say("trade.measuring.line_named", line=line, code=code)
        if code == "grid":
            faults.append(Fault(f"{where}.code", say("trade.measuring.grid_reserved", line=line)))
        elif code in names:
            faults.append(Fault(f"{where}.code", say("trade.measuring.name_twice", line=line, code=code)))
    if reason := _words(described["words"]):
        faults.append(
            Fault(f"{where}.words", say("trade.measuring.line_field_fault", line=line, field="words", reason=reason))
        )
    if reason := _definition(described["definition"]):
        faults.append(
            Fault(
                f"{where}.definition",
                say("trade.measuring.line_field_fault", line=line, field="definition", reason=reason),
            )
        )
    return line


def _against(name: str, names: dict[str, Name], later: list[str]) -> str | None:
    if name in names:
        return say("trade.measuring.name_is_text", name=name) if names[name].sort == "text" else None
    if name in later:
        return say("trade.measuring.name_later", name=name)
    return say("trade.measuring.name_unknown", name=name)


def _of(
    where: str, line: str, of: Any, names: dict[str, Name], grid: list[str], later: list[str], faults: list[Fault]
) -> list[Name] | None:
    """What the names of a line stand for, "grid" spelled out; None when one of them is in doubt."""
    if type(of) is not list or not 1 <= len(of) <= 60 or any(type(name) is not str for name in of):
        faults.append(Fault(f"{where}.of", say("trade.measuring.line_of", line=line)))
        return None
    spelled: list[str] = []
    before = len(faults)
    for name in of:
        if name == "grid" and not grid:
            faults.append(Fault(f"{where}.of", say("trade.measuring.line_no_grid", line=line)))
        elif name == "grid":
            spelled += grid
        elif reason := _against(name, names, later):
            faults.append(Fault(f"{where}.of", say("trade.measuring.line_fault", line=line, reason=reason)))
        else:
            spelled.append(name)
    twice = next((name for index, name in enumerate(spelled) if name in spelled[:index]), None)
    if twice is not None:
        faults.append(Fault(f"{where}.of", say("trade.measuring.line_named_twice", line=line, name=twice)))
    return [names[name] for name in spelled] if len(faults) == before else None


def _operation(
    where: str, line: str, figure: dict[str, Any], of: list[Name] | None, axes: dict[str, int], known_kind: bool,
    faults: list[Fault],
) -> None:  # fmt: skip
    do = figure["do"]
    if type(do) is not str or do not in OPERATIONS:
        known = ", ".join(OPERATIONS)
        if type(do) is str:
            message = say("trade.measuring.operation_unknown", line=line, operation=do, known=known)
        else:
            message = say("trade.measuring.operation_no_text", line=line, known=known)
        faults.append(Fault(f"{where}.do", message))
        return
    before = len(faults)
    _along(where, line, figure, axes, faults)
    _by(where, line, figure, faults)
    if of is None:
        return
    _count(where, line, do, of, faults)
    if len(faults) == before and known_kind:
        _kind(where, line, figure, of, faults)


def _along(where: str, line: str, figure: dict[str, Any], axes: dict[str, int], faults: list[Fault]) -> None:
    do, along = figure["do"], figure["along"]
    if not OPERATIONS[do]["along"]:
        if along != "":
            faults.append(Fault(f"{where}.along", say("trade.measuring.along_unused", line=line, operation=do)))
    elif type(along) is not str or along not in axes:
        known = say("trade.measuring.axes_known", axes=", ".join(axes)) if axes else say("trade.measuring.axes_none")
        faults.append(Fault(f"{where}.along", say("trade.measuring.along_needed", line=line, operation=do, axes=known)))
    elif figure["of"] != ["grid"]:
        faults.append(Fault(f"{where}.of", say("trade.measuring.whole_grid", line=line, operation=do)))
    elif do == "middle_less_ends" and axes[along] != 3:
        message = say("trade.measuring.along_three", line=line, operation=do, along=along, values=axes[along])
        faults.append(Fault(f"{where}.along", message))
    elif axes[along] < 2:
        faults.append(Fault(f"{where}.along", say("trade.measuring.along_two", line=line, operation=do, along=along)))


def _by(where: str, line: str, figure: dict[str, Any], faults: list[Fault]) -> None:
    do, by = figure["do"], figure["by"]
    if OPERATIONS[do]["by"]:
        if type(by) is not str or not _is_fraction(by):
            faults.append(Fault(f"{where}.by", say("trade.measuring.by_needed", line=line, operation=do)))
    elif by != "":
        faults.append(Fault(f"{where}.by", say("trade.measuring.by_unused", line=line, operation=do)))


def _count(where: str, line: str, do: str, of: list[Name], faults: list[Fault]) -> None:
    least, most = OPERATIONS[do]["least"], OPERATIONS[do]["most"]
    if len(of) < least or (most is not None and len(of) > most):
        wanted = f"{least}" if least == most else say("trade.measuring.or_more", least=least)
        message = say("trade.measuring.takes_count", line=line, operation=do, wanted=wanted, given=len(of))
        faults.append(Fault(f"{where}.of", message))
    elif reason := _sets(do, of):
        faults.append(Fault(f"{where}.of", say("trade.measuring.line_fault", line=line, reason=reason)))


def _kind(where: str, line: str, figure: dict[str, Any], of: list[Name], faults: list[Fault]) -> None:
    kinds = [name.kind for name in of if name.kind is not None]
    if len(kinds) < len(of):
        return
    allowed, reason = what_comes_out(figure["do"], kinds)
    if reason:
        faults.append(Fault(f"{where}.of", say("trade.measuring.line_fault", line=line, reason=reason)))
    elif figure["kind"] not in allowed:
        message = say("trade.measuring.kind_wrong", line=line, kinds=listed(allowed, "or"), kind=figure["kind"])
        faults.append(Fault(f"{where}.kind", message))


def _sets(do: str, of: list[Name]) -> str | None:
    sets = [index for index, name in enumerate(of) if name.sort == "set"]
    if do == "nearest":
        return None if sets == [1] else say("trade.measuring.nearest_takes")
    return say("trade.measuring.takes_no_set", operation=do) if sets else None


def what_comes_out(do: str, kinds: list[str]) -> tuple[list[str], str]:
    """The kinds that a figure may have after an operation on values of `kinds`, or the reason why there is none."""
    first, last = kinds[0], kinds[-1]
    if do in ("cylinder_volume", "ratio_of_volumes", "per_thousand"):
        wanted, result = {
            "cylinder_volume": (["length", "length"], "volume"),
            "ratio_of_volumes": (["volume", "volume"], "number"),
            "per_thousand": ([first, "speed"], first),
        }[do]
        if kinds != wanted:
            return [], say("trade.measuring.takes_kinds", operation=do, wanted=listed(wanted), given=listed(kinds))
        if first in ZERO_ELSEWHERE:
            return [], say("trade.measuring.zero_elsewhere", operation=do, kind=first)
        return [result], ""
    if do not in _KEEP and (elsewhere := [kind for kind in kinds if kind in ZERO_ELSEWHERE]):
        return [], say("trade.measuring.zero_elsewhere", operation=do, kind=elsewhere[0])
    if do == "product":
        if first in PURE and last in PURE:
            return list(PURE), ""
        if first in PURE or last in PURE:
            return [last if first in PURE else first], ""
        return [], say("trade.measuring.product_unit", first=first, second=last)
    if do == "quotient":
        if first == last:
            return list(PURE), ""
        if last in PURE:
            return list(PURE) if first in PURE else [first], ""
        return [], say("trade.measuring.quotient_unit", first=first, second=last)
    other = next((kind for kind in kinds if kind != first), None)
    if other is not None:
        return [], say("trade.measuring.cannot_combine", operation=do, first=first, second=other)
    return [first], ""


def _guide(where: str, line: str, guide: Any, names: dict[str, Name], later: list[str], faults: list[Fault]) -> None:
    if guide is None:
        return
    where = f"{where}.guide"
    if type(guide) is not dict or guide.keys() != {"words", "of", "by"}:
        faults.append(Fault(where, say("trade.measuring.guide_fields", line=line)))
        return
    if reason := _guide_words(guide["words"]):
        faults.append(Fault(f"{where}.words", say("trade.measuring.guide_words", line=line, reason=reason)))
    if guide["of"] == "" and guide["by"] == "":
        return
    if type(guide["of"]) is not str:
        faults.append(Fault(f"{where}.of", say("trade.measuring.guide_of", line=line)))
    elif reason := _against(guide["of"], names, later):
        faults.append(Fault(f"{where}.of", say("trade.measuring.guide_fault", line=line, reason=reason)))
    elif names[guide["of"]].sort == "set":
        faults.append(Fault(f"{where}.of", say("trade.measuring.guide_set", line=line, name=guide["of"])))
    if type(guide["by"]) is not str or not _is_fraction(guide["by"]):
        faults.append(Fault(f"{where}.by", say("trade.measuring.guide_by", line=line)))


def check_across(across: list[Any], names: dict[str, Name], faults: list[Fault]) -> None:
    """Adds the faults of the lines of `across`."""
    codes: set[str] = set()
    for index, described in enumerate(across):
        where, line = f"across.{index}", say("trade.measuring.line_across", number=index + 1)
        if type(described) is not dict or described.keys() != set(_ACROSS):
            faults.append(Fault(where, say("trade.measuring.line_fields", line=line, fields=", ".join(_ACROSS))))
            continue
        line = _head(where, line, described, names, faults)
        if type(described["code"]) is str:
            if described["code"] in codes and described["code"] not in names:
                faults.append(
                    Fault(f"{where}.code", say("trade.measuring.name_twice", line=line, code=described["code"]))
                )
            codes.add(described["code"])
        name = _across_of(where, line, described["of"], names, faults)
        do = described["do"]
        if type(do) is not str or do not in ACROSS:
            known = ", ".join(ACROSS)
            if type(do) is str:
                message = say("trade.measuring.across_unknown", line=line, operation=do, known=known)
            else:
                message = say("trade.measuring.across_no_text", line=line, known=known)
            faults.append(Fault(f"{where}.do", message))
            continue
        _share(where, line, do, described["share"], faults)
        compares = do in ("spread", "spread_share", "under_share", "neighbours_under")
        if compares and name is not None and name.kind in ZERO_ELSEWHERE:
            reason = say("trade.measuring.zero_elsewhere", operation=do, kind=name.kind)
            faults.append(Fault(f"{where}.of", say("trade.measuring.line_fault", line=line, reason=reason)))


def _across_of(where: str, line: str, of: Any, names: dict[str, Name], faults: list[Fault]) -> Name | None:
    """The reading or figure compared; a name of another sort is a fault and still returned."""
    name = names.get(of) if type(of) is str else None
    if name is None or name.sort not in ("reading", "figure"):
        if type(of) is str:
            message = say("trade.measuring.across_of_unknown", line=line, name=of)
        else:
            message = say("trade.measuring.across_of", line=line)
        faults.append(Fault(f"{where}.of", message))
    return name


def _share(where: str, line: str, do: str, share: Any, faults: list[Fault]) -> None:
    if ACROSS[do]["share"]:
        if share != "rule" and (type(share) is not str or not _is_share(share)):
            faults.append(Fault(f"{where}.share", say("trade.measuring.share_needed", line=line, operation=do)))
    elif share != "":
        faults.append(Fault(f"{where}.share", say("trade.measuring.share_unused", line=line, operation=do)))
