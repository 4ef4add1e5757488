"""The table of entry kinds in DEVELOPERS.md, made from their data.

`python -m tests.unit.trade.make_kinds_table` writes it there anew; test_catalogue.py holds the page to it.
"""

from __future__ import annotations

from pathlib import Path

from witnessmark.trade.record.kinds import GROUPS, KINDS, Kind

PAGE = Path(__file__).parents[3] / "DEVELOPERS.md"
_BELONGS = {"needed": "a job", "none": "the workshop", "either": "a job or the workshop"}
_WRITERS = ("phone", "desk", "register", "server")
_HEAD = (
    "| kind | written by | belongs to | feed | media | corrected | withdrawn | what it says |\n"
    "| --- | --- | --- | --- | --- | --- | --- | --- |\n"
)


def table() -> str:
    """The rows of all kinds, group by group as the filter shows them, each line ended."""
    order = list(GROUPS)
    kinds = sorted(KINDS.values(), key=lambda kind: (order.index(kind.group), kind.name))
    return _HEAD + "".join(_row(kind) for kind in kinds)


def _row(kind: Kind) -> str:
    cells = (
        f"`{kind.name}`",
        ", ".join(writer for writer in _WRITERS if writer in kind.written_by),
        _BELONGS[kind.job],
        kind.feed,
        f"{kind.media.count} {kind.media.role}" if kind.media else "",
        kind.corrections,
        kind.withdrawals,
        kind.says,
    )
    return f"| {' | '.join(cells)} |\n"


def with_table(page: str) -> str:
    """The page with the table of today in its section "Entry kinds"."""
    before, section = page.split("\n## Entry kinds\n")
    begins = section.index("| kind |")
    # The table ends with the first line that is none of it.
    ends = next(at for at in range(begins, len(section)) if section[at - 1] == "\n" and section[at] != "|")
    return f"{before}\n## Entry kinds\n{section[:begins]}{table()}{section[ends:]}"


if __name__ == "__main__":
    PAGE.write_text(with_table(PAGE.read_text()))
