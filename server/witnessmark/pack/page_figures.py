"""The measurement sheets on the page of a pack: the same words as in the PDF, as tables of HTML."""

from __future__ import annotations

from html import escape

from witnessmark.pack.words import LABELS


def figures(contents: dict) -> list[str]:
    """The section, empty lines for a job without sheets."""
    if not contents["sheets"]:
        return []
    lines = ['<section id="figures" class="figures"><h2>Figures</h2>', f"<p>{escape(contents['figures_words'])}</p>"]
    lines.append('<dl class="facts standings">')
    for standing in contents["standings"]:
        lines.append(f"<dt>{tag(standing['form'], standing['words'])}</dt><dd>{escape(standing['means'])}</dd>")
    lines += ["</dl>", f'<p class="small">{escape(contents["figures_uncertain"])}</p>']
    for sheet in contents["sheets"]:
        lines += _sheet(sheet, contents["sheet_words"])
    return [*lines, "</section>"]


def _sheet(sheet: dict, labels: dict) -> list[str]:
    lines = [f"<h3>{escape(sheet['title'])}</h3>"]
    lines += [f'<p class="caution">{escape(words)}</p>' for words in sheet["cautions"]]
    lines += [f"<p>{tag('solid', LABELS['gauge_overdue'])} {escape(words)}</p>" for words in sheet["overdue"]]
    for part in sheet["tables"]:
        lines += _table(sheet["title"], part)
    lines += [f"<p>{escape(words)}</p>" for words in sheet["across"]]
    lines += [f"<p>{escape(words)}</p>" for words in sheet["judged_later"]]
    for verdict in sheet["verdicts"]:
        of = f"<b>{escape(verdict['of'])}</b>: {escape(verdict['text'])}"
        lines.append(f"<p>{tag(verdict['form'], verdict['words'])} {of}</p>")
        if verdict["settle"]:
            ways = "".join(f"<li>{escape(way)}</li>" for way in verdict["settle"])
            lines.append(f'<ul class="list small">{ways}</ul>')
    lines += _budgets(sheet, labels)
    lines += _proposals(sheet, labels)
    lines.append('<dl class="facts small">')
    lines += [f"<dt>{escape(name)}</dt><dd>{escape(value)}</dd>" for name, value in sheet["about"]]
    lines.append("</dl>")
    return [*lines, *(f'<p class="small">{escape(words)}</p>' for words in sheet["definitions"])]


def _budgets(sheet: dict, labels: dict) -> list[str]:
    if not sheet["budgets"]:
        return []
    lines = [f"<h4>{escape(labels['budgets'])}</h4>", f'<p class="small">{escape(labels["budgets_means"])}</p>']
    for budget in sheet["budgets"]:
        figures = escape("; ".join(budget["of"]))
        summed = f"u = {budget['u']}, k = {budget['k']}, \u00b1 {budget['U']} {budget['unit']}".rstrip()
        lines.append(f'<p><b>{figures}</b>: <span class="mono">{escape(summed)}</span></p>')
        unit = f", {budget['unit']}" if budget["unit"] else ""
        names = (LABELS["what_adds"], f"u{unit}", LABELS["share"])
        heads = "".join(f'<th scope="col">{escape(head)}</th>' for head in names)
        lines.append(scrolled(f"{labels['budgets']}: {budget['of'][0]}", f"<thead><tr>{heads}</tr></thead><tbody>"))
        for line in budget["lines"]:
            name = f'{escape(line["source"])} <span class="small">{escape(line["words"])}</span>'
            u = (
                f'<td class="mono">{escape(line["u"])}</td>'
                if line["u"]
                else f"<td>{escape(labels['not_counted'])}</td>"
            )
            share = f"{escape(line['share'])} %" if line["share"] else ""
            lines.append(f'<tr><th scope="row">{name}</th>{u}<td class="mono">{share}</td></tr>')
        lines.append("</tbody></table></div>")
    return lines


def _proposals(sheet: dict, labels: dict) -> list[str]:
    if not sheet["proposals"]:
        return []
    lines = [f"<h4>{escape(labels['proposals'])}</h4>", f'<p class="small">{escape(labels["proposals_means"])}</p>']
    for proposal in sheet["proposals"]:
        lines.append(f"<p><b>{escape(proposal['title'])}</b></p>")
        lines.append(f'<ul class="list">{"".join(f"<li>{escape(line)}</li>" for line in proposal["lines"])}</ul>')
        lines.append('<dl class="facts small">')
        for given in proposal["inputs"]:
            value = f'<span class="mono">{escape(given["value"])}</span> {escape(given["source"])}'
            lines.append(f"<dt>{escape(given['name'])}</dt><dd>{value}</dd>")
        lines.append(f'<dt>formula</dt><dd class="mono">{escape(proposal["formula"])}</dd></dl>')
        lines += [f'<p class="caution">{escape(words)}</p>' for words in proposal["cautions"]]
    return lines


def scrolled(name: str, inside: str, sort: str = "wide") -> str:
    """The beginning of a wide table: it is moved sideways by keyboard too, so it can be reached."""
    return f'<div class="{sort}" tabindex="0" role="region" aria-label="{escape(name, quote=True)}"><table>{inside}'


def _table(title: str, part: dict) -> list[str]:
    heads = "".join(f'<th scope="col">{escape(name)}</th>' for name in part["places"])
    first = f'<th scope="col">{escape(LABELS["reading_or_figure"])}</th>'
    head = f"<thead><tr>{first}{heads}</tr></thead><tbody>"
    lines = [scrolled(title, head)]
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
    for cell_tag in cell["tags"]:
        sort = f'<span class="small">{escape(cell_tag["sort"])}</span> ' if cell_tag["sort"] else ""
        lines.append(f"{sort}{tag(cell_tag['form'], cell_tag['words'])}")
    return "<br>".join(line for line in lines if line)


def tag(form: str, words: str) -> str:
    """A verdict or standing as a word with a form of its own."""
    if form == "plain":
        return escape(words)
    return f'<span class="tag {form}"><span>{escape(words)}</span></span>'
