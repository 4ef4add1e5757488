"""Draws the table of a run as one SVG: memory, threads and handles by the work of the processes, and the files."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from tests.soak.sampling import FILES, MEASURES, ROLES

WIDTH, HEIGHT, LEFT, TOP, BETWEEN = 820, 150, 60, 46, 62
COLOURS = ("#1b4965", "#b23a48", "#2f6f3e", "#a66a00", "#6a4c93", "#777777")
POINTS = 240  # a line has at most so many: the drawing is read, not measured


def draw(lines: Sequence[dict[str, float]], title: str) -> str:
    """The drawing; `lines` are as `sampling.COLUMNS` says."""
    panels = [(measure.replace("_mb", ", MB"), [f"{role} {measure}" for role in ROLES], ROLES) for measure in MEASURES]
    panels.append(("files, MB", list(FILES), [name.removesuffix("_mb") for name in FILES]))
    height = TOP + len(panels) * (HEIGHT + BETWEEN)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}">',
        '<g font-family="sans-serif" font-size="12">',
        f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
        f'<text x="{LEFT}" y="20" font-size="14">{escape(title)}</text>',
    ]
    for number, (name, columns, words) in enumerate(panels):
        parts += _panel(lines, name, columns, words, TOP + number * (HEIGHT + BETWEEN))
    return "\n".join([*parts, "</g></svg>", ""])


def _panel(lines, name: str, columns: Sequence[str], words: Sequence[str], top: int) -> list[str]:
    most = max(max(line[column] for line in lines) for column in columns) * 1.05 or 1.0
    end = lines[-1]["seconds"] or 1.0
    every = max(1, len(lines) // POINTS)
    right = WIDTH - 20
    parts = [
        f'<rect x="{LEFT}" y="{top}" width="{right - LEFT}" height="{HEIGHT}" fill="none" stroke="#999"/>',
        f'<text x="{LEFT}" y="{top - 6}">{escape(name)}</text>',
        f'<text x="{LEFT - 6}" y="{top + 10}" text-anchor="end">{most:.3g}</text>',
        f'<text x="{LEFT - 6}" y="{top + HEIGHT}" text-anchor="end">0</text>',
        f'<text x="{right}" y="{top + HEIGHT + 16}" text-anchor="end">{end / 60:.0f} min</text>',
        f'<line x1="{(LEFT + right) / 2}" x2="{(LEFT + right) / 2}" y1="{top}" y2="{top + HEIGHT}" stroke="#ddd"/>',
    ]
    at = LEFT
    for column, word, colour in zip(columns, words, COLOURS, strict=False):
        points = " ".join(
            f"{LEFT + (right - LEFT) * line['seconds'] / end:.1f},{top + HEIGHT - HEIGHT * line[column] / most:.1f}"
            for line in lines[::every]
        )
        parts.append(f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="1.4"/>')
        parts.append(f'<text x="{at}" y="{top + HEIGHT + 16}" fill="{colour}">{escape(word)}</text>')
        at += 12 + 7 * len(word)
    return parts
