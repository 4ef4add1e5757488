"""Proposals from sheets of figures: the machining step, the shims, the ratio after a skim, what a fit will ask for.

A proposal decides nothing. It names what went in with its source, the formula, what to mind, and the reading that
forces it. All of it is text, ready to be shown; the shape stands in pwa/src/office/job/figures/shapes.ts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from witnessmark.trade.measuring.known import Known
from witnessmark.trade.proposals import for_fit as fit_proposal
from witnessmark.trade.proposals import for_machining as machining_proposal
from witnessmark.trade.proposals import for_shims as shim_proposal
from witnessmark.trade.proposals import for_skim as skim_proposal
from witnessmark.trade.proposals.parts import Proposal, SheetQuery

_MAKERS: tuple[Callable[[SheetQuery], list[Proposal]], ...] = (
    machining_proposal.proposals,
    shim_proposal.proposals,
    shim_proposal.preload,
    skim_proposal.proposals,
    fit_proposal.proposals,
)


def proposals(sheets: Sequence[dict[str, Any]], known: Known, engine_type: dict[str, Any] | None) -> list[Proposal]:
    """All proposals for the sheets of one job. Parts that were measured again after machining get none from the sheet
    before it."""
    return [proposal for some in of_each(sheets, known, engine_type) for proposal in some]


def of_each(sheets: Sequence[dict[str, Any]], known: Known, engine_type: dict[str, Any] | None) -> list[list[Proposal]]:
    """The same, for each sheet those that come from it."""
    done = {sheet["procedure"] for sheet in sheets if sheet["state"] != "as_found"}
    result: list[list[Proposal]] = []
    for sheet in sheets:
        query = SheetQuery(sheet, known, engine_type["id"] if engine_type else "")
        overtaken = sheet["state"] == "as_found" and sheet["procedure"] in done
        result.append([] if overtaken else [proposal for make in _MAKERS for proposal in make(query)])
    return result
