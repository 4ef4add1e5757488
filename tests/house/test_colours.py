"""A sheet has the same colours at every width, so that it is enough to judge its contrast at one."""

from __future__ import annotations

import re
from pathlib import Path

STYLES = Path(__file__).resolve().parents[2] / "pwa" / "src"
BY_WIDTH = re.compile(r"@(?:media|container)[^{]*\bwidth[^{]*\{")
COLOUR = re.compile(
    r"^\s*((?:[a-z]+-)*colou?r|background(?:-image)?|opacity|filter|mix-blend-mode|fill): *([^;]+)", re.M
)
# The plainest pair, which every sheet has at full width as well.
PLAIN = {("color", "var(--ink-soft)"), ("background", "var(--paper)")}


def block_from(text: str, start: int) -> str:
    """What stands between the brace before `start` and the one that closes it."""
    depth, end = 1, start
    while depth:
        depth += {"{": 1, "}": -1}.get(text[end], 0)
        end += 1
    return text[start:end]


def test_no_colour_depends_on_the_width():
    blocks = [
        (path.name, block_from(text, opening.end()))
        for path in sorted(STYLES.rglob("*.css"))
        for text in [path.read_text()]
        for opening in BY_WIDTH.finditer(text)
    ]
    assert len(blocks) > 20
    colours = [(name, *declared) for name, block in blocks for declared in COLOUR.findall(block)]
    assert [colour for colour in colours if colour[1:] not in PLAIN] == []


def test_a_colour_that_depends_on_the_width_would_be_seen():
    text = "@media (max-width: 800px) {\n  a {\n    color: var(--rust);\n  }\n}"
    (opening,) = BY_WIDTH.finditer(text)
    assert COLOUR.findall(block_from(text, opening.end())) == [("color", "var(--rust)")]
