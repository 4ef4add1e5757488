"""The joints on the page of a pack: the same words and drawings as in the PDF, as HTML and SVG."""

from __future__ import annotations

from html import escape

from witnessmark.pack.joint_plan import CELL
from witnessmark.pack.page_figures import scrolled, tag
from witnessmark.pack.words import LABELS


def joints(contents: dict) -> list[str]:
    """The section, empty for a job in which no sheet was carried out."""
    if not contents["joints"]:
        return []
    lines = ['<section id="joints" class="figures"><h2>Joints</h2>', f"<p>{escape(contents['joints_words'])}</p>"]
    lines.append('<dl class="facts standings">')
    lines += [f"<dt><b>{escape(name)}</b></dt><dd>{escape(means)}</dd>" for name, means in contents["joints_key"]]
    lines.append("</dl>")
    for joint in contents["joints"]:
        lines += _run(joint, contents["preload_words"])
    return [*lines, "</section>"]


def _run(run: dict, estimate: str) -> list[str]:
    lines = [f"<h3>{escape(run['title'])}</h3>", f"<p>{tag(run['state']['form'], run['state']['words'])}</p>"]
    lines.append('<dl class="facts small">')
    lines += [f"<dt>{escape(name)}</dt><dd>{escape(value)}</dd>" for name, value in run["about"]]
    lines.append("</dl>")
    lines += [f"<p>{tag('solid', overdue['sort'])} {escape(overdue['words'])}</p>" for overdue in run["overdue"]]
    if run["drawings"]:
        drawn = "".join(_drawing(drawing) for drawing in run["drawings"])
        lines.append(f'<div class="joint-drawings">{drawn}</div>')
    for part in run["tables"]:
        lines += _table(run["title"], part)
    lines += [f"<p>{escape(words)}</p>" for words in run["earlier"]]
    lines += _departures(run["departures"])
    lines += [f"<p>{escape(words)}</p>" for words in run["aside"]]
    if run["sign_off"] or run["missing"]:
        lines.append(f"<h4>{escape(LABELS['how_it_ended'])}</h4>")
        lines += [f"<p>{escape(words)}</p>" for words in run["sign_off"]]
    if run["missing"]:
        lines += [f"<p>{escape(LABELS['missing'])}</p>", _listed(run["missing"])]
    if run["preload"]:
        lines += _preload(run["preload"], estimate)
    if run["preload_as"]:
        lines.append(f'<p class="small">{escape(run["preload_as"])}</p>')
    return lines


def _listed(items: list[str]) -> str:
    return f'<ul class="list">{"".join(f"<li>{escape(item)}</li>" for item in items)}</ul>'


def _table(title: str, part: dict) -> list[str]:
    first = f'<th scope="col">{escape(LABELS["fastener"])}</th>'
    heads = "".join(f'<th scope="col">{_head(stage)}</th>' for stage in part["stages"])
    lines = [scrolled(title, f"<thead><tr>{first}{heads}</tr></thead><tbody>", "wide by-fastener")]
    for row in part["rows"]:
        cells = "".join(f"<td>{'<br>'.join(_done(tightened) for tightened in cell)}</td>" for cell in row["cells"])
        lines.append(f'<tr><th scope="row"><b class="mono">{escape(row["label"])}</b></th>{cells}</tr>')
    return [*lines, "</tbody></table></div>"]


def _head(stage: dict) -> str:
    facts = "".join(f'<br><span class="small">{escape(fact)}</span>' for fact in stage["facts"])
    return f"{escape(stage['words'])}<br><span>{escape(stage['target'])}</span>{facts}"


def _done(tightened: dict) -> str:
    lines = []
    if tightened["value"]:
        small = f'<span class="small">{escape(tightened["small"])}</span>'
        lines.append(f'<b class="mono">{escape(tightened["value"])}</b><br>{small}')
    lines += [tag(mark["form"], mark["words"]) for mark in tightened["tags"]]
    return "<br>".join(lines)


def _departures(departures: list[dict]) -> list[str]:
    if not departures:
        return [f"<p>{escape(LABELS['no_deviations'])}</p>"]
    lines = [f"<h4>{escape(LABELS['deviations'])}</h4>"]
    for departure in departures:
        heading = f"{tag(departure['form'], departure['sort'])} {escape(departure['words'])}"
        lines.append(f'<p>{heading}<br><span class="answered">{escape(departure["answer"])}</span></p>')
    return lines


def _preload(estimate: dict, title: str) -> list[str]:
    lines = [f"<h4>{escape(title)}</h4>"]
    lines += [f"<p>{escape(words)}</p>" for words in (estimate["unknown"], estimate["thread"]) if words]
    if estimate["rows"]:
        heads = "".join(f'<th scope="col">{escape(LABELS[name])}</th>' for name in ("stage", "estimate"))
        lines.append(scrolled(title, f"<thead><tr>{heads}</tr></thead><tbody>"))
    for row in estimate["rows"]:
        estimates = "<br>".join(
            f'<span class="mono">{escape(line["value"])}</span> <span class="small">{escape(line["small"])}</span>'
            for line in row["lines"]
        )
        name = f'{escape(row["stage"])}, <span class="mono">{escape(row["target"])}</span>'
        lines.append(f'<tr><th scope="row">{name}</th><td>{estimates}</td></tr>')
    if estimate["rows"]:
        heads = "".join(f'<th scope="col">{escape(LABELS[name])}</th>' for name in ("stage", "estimate"))
        lines.append("</tbody></table></div>")
    if estimate["assumptions"]:
        lines.append(_listed(estimate["assumptions"]))
    return [*lines, *(f'<p class="caution">{escape(words)}</p>' for words in estimate["cautions"])]


def _drawing(drawing: dict) -> str:
    plan = drawing["plan"]
    wide = ' class="is-wide"' if plan["wide"] else ""
    return f"<figure{wide}><figcaption>{escape(drawing['title'])}</figcaption>{_svg(plan)}</figure>"


def _svg(plan: dict) -> str:
    alt = escape(plan["alt"], quote=True)
    drawn = [f'<svg viewBox="0 0 {plan["width"]} {plan["height"]}" role="img" aria-label="{alt}">']
    drawn.append('<g fill="none" stroke="var(--line)">')
    for x1, y1, x2, y2 in plan["axes"]:
        drawn.append(f'<path stroke-width="0.8" stroke-dasharray="12 4 2 4" d="M{x1} {y1}L{x2} {y2}"/>')
    for step in plan["way"]:
        x1, y1, x2, y2 = step["line"]
        drawn.append(f'<path d="M{x1} {y1}L{x2} {y2}"/><path fill="var(--line)" d="{_closed(step["arrow"])}"/>')
    drawn.append("</g>")
    drawn += [_bolt(head) for head in plan["heads"]]
    return "".join([*drawn, "</svg>"])


def _bolt(head: dict) -> str:
    drawn = []
    if head["ring"]:
        pen = 'stroke="var(--brass)" stroke-width="2.6" stroke-dasharray="5 3"' if head["ring"] == "open" else ""
        pen = pen or 'stroke="var(--ink)" stroke-width="1.4"'
        drawn.append(f'<circle cx="{head["x"]}" cy="{head["y"]}" r="{head["ring_radius"]}" fill="var(--paper)" {pen}/>')
    drawn.append(f'<path fill="var(--paper)" stroke="var(--ink)" stroke-width="1.6" d="{_closed(head["hex"])}"/>')
    drawn.append(_letters(head["x"], head["y"], head["size"], "var(--ink)", head["label"]))
    if head["done"]:
        x, y = head["tag"]
        ground, ink = ("var(--ink)", "var(--paper)") if head["apart"] else ("var(--paper)", "var(--ink)")
        size = f'width="{CELL["width"]}" height="{CELL["height"]}"'
        drawn.append(f'<rect x="{x}" y="{y}" {size} fill="{ground}" stroke="var(--ink)"/>')
        middle = x + CELL["width"] / 2, y + CELL["height"] / 2
        drawn.append(_letters(round(middle[0], 2), round(middle[1], 2), 11, ink, head["done"]))
    return "".join(drawn)


def _letters(x: float, y: float, size: float, ink: str, text: str) -> str:
    return (
        f'<text x="{x}" y="{round(y + size * 0.35, 2)}" text-anchor="middle" font-size="{size}" font-weight="700" '
        f'fill="{ink}">{escape(text)}</text>'
    )


def _closed(spots: list[list[float]]) -> str:
    return f"M{'L'.join(f'{x} {y}' for x, y in spots)}Z"
