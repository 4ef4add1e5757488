"""The measurement sheets on the page of a pack: the same words as in the PDF, as tables of HTML."""

from __future__ import annotations

from html import escape


def figures(told: dict) -> list[str]:
    """The section, empty lines for a job without sheets."""
    if not told["sheets"]:
        return []
    lines = ['<section id="figures" class="figures"><h2>Figures</h2>', f"<p>{escape(told['figures_words'])}</p>"]
    lines.append('<dl class="facts standings">')
    for one in told["standings"]:
        lines.append(f"<dt>{_tag(one['form'], one['words'])}</dt><dd>{escape(one['means'])}</dd>")
    lines += ["</dl>", f'<p class="small">{escape(told["figures_uncertain"])}</p>']
    for one in told["sheets"]:
        lines += _sheet(one)
    return [*lines, "</section>"]


def _sheet(one: dict) -> list[str]:
    lines = [f"<h3>{escape(one['title'])}</h3>"]
    lines += [f'<p class="caution">{escape(words)}</p>' for words in one["cautions"]]
    lines += [f"<p>{_tag('solid', 'gauge overdue')} {escape(words)}</p>" for words in one["overdue"]]
    for part in one["tables"]:
        lines += _table(one["title"], part)
    lines += [f"<p>{escape(words)}</p>" for words in one["across"]]
    lines += [f"<p>{escape(words)}</p>" for words in one["judged_later"]]
    for said in one["verdicts"]:
        lines.append(f"<p>{_tag(said['form'], said['words'])} <b>{escape(said['of'])}</b>: {escape(said['text'])}</p>")
        if said["settle"]:
            ways = "".join(f"<li>{escape(way)}</li>" for way in said["settle"])
            lines.append(f'<ul class="list small">{ways}</ul>')
    lines.append('<dl class="facts small">')
    lines += [f"<dt>{escape(name)}</dt><dd>{escape(value)}</dd>" for name, value in one["about"]]
    lines.append("</dl>")
    return [*lines, *(f'<p class="small">{escape(words)}</p>' for words in one["definitions"])]


def _table(title: str, part: dict) -> list[str]:
    heads = "".join(f'<th scope="col">{escape(name)}</th>' for name in part["places"])
    # A wide table is moved sideways by keyboard too, so it can be reached.
    lines = [f'<div class="wide" tabindex="0" role="region" aria-label="{escape(title, quote=True)}"><table>']
    lines.append(f'<thead><tr><th scope="col">reading or figure</th>{heads}</tr></thead><tbody>')
    was_figure = False
    for row in part["rows"]:
        first = ' class="first"' if row["figure"] and not was_figure else ""
        was_figure = row["figure"]
        unit = f', <span class="soft">{escape(row["unit"])}</span>' if row["unit"] else ""
        name = f"<b>{escape(row['words'])}</b>" if row["figure"] else escape(row["words"])
        cells = "".join(f"<td>{_cell(cell, row['figure'])}</td>" for cell in row["cells"])
        lines.append(f'<tr{first}><th scope="row">{name}{unit}</th>{cells}</tr>')
    return [*lines, "</tbody></table></div>"]


def _cell(cell: dict, bold: bool) -> str:
    text = f'<span class="mono">{escape(cell["text"])}</span>' if cell["text"] else ""
    lines = [f"<b>{text}</b>" if bold and text else text]
    if cell["small"]:
        lines.append(f'<span class="small">{escape(cell["small"])}</span>')
    for tag in cell["tags"]:
        sort = f'<span class="small">{escape(tag["sort"])}</span> ' if tag["sort"] else ""
        lines.append(f"{sort}{_tag(tag['form'], tag['words'])}")
    return "<br>".join(line for line in lines if line)


def _tag(form: str, words: str) -> str:
    if form == "plain":
        return escape(words)
    return f'<span class="tag {form}"><span>{escape(words)}</span></span>'
