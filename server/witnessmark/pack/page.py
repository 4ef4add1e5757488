"""The page of a pack: one file that opens without a network, from any folder it was put into. It is read without a
script; one checks the signed records that lie in it, another lights the words of a recording."""

from __future__ import annotations

import base64
from functools import cache
from html import escape
from itertools import groupby
from pathlib import Path

from witnessmark.pack import clocks, page_check, report, words
from witnessmark.pack.media import MediaFile
from witnessmark.pack.page_figures import figures
from witnessmark.pack.page_joints import joints
from witnessmark.pack.page_spoken import recognisers, script, spoken
from witnessmark.pack.story import Exhibit, Story
from witnessmark.pack.typeset import fonts_folder
from witnessmark.trade.ground.sentences import say

ROOM = Path(__file__).parent


def page(contents: dict, story: Story, files: list[MediaFile], signed: str) -> bytes:
    """index.html. `contents` is what the report says, so that page and PDF cannot differ; `signed` is what
    page_check.signed gives."""
    by_sha = {file.sha256: file for file in files}
    scripts = [*script(contents), page_check.SCRIPT]
    parts = [
        "<!doctype html>",
        f'<html lang="{contents["language"]}"><head><meta charset="utf-8">',
        f"<title>{escape(contents['document_title'])}</title>",
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        page_check.policy(scripts),
        f"<style>{_fonts()}{(ROOM / 'page.css').read_text()}</style></head><body>",
        '<div class="sheet">',
        *_top(contents),
        f'<section id="records" aria-label="{escape(words.LABELS["records"], quote=True)}">',
    ]
    for heading, some in groupby(story.exhibits, report.heading_of):
        parts.append(f"<h2>{escape(heading)}</h2>")
        for exhibit in some:
            parts += _record(exhibit, by_sha)
    parts += [
        "</section>",
        *figures(contents),
        *joints(contents),
        *recognisers(contents),
        *_rests_on(contents),
        "</main></div>",
        *_title_block(contents),
        f'<script type="application/json" id="signed">{signed}</script>',
        *(f"<script>{text}</script>" for text in scripts),
        "</body></html>",
    ]
    return "\n".join(parts).encode()


@cache
def _fonts() -> str:
    faces = []
    for family, weight, name in (
        ("Atkinson Hyperlegible Next", 400, "page-regular.woff2"),
        ("Atkinson Hyperlegible Next", 700, "page-bold.woff2"),
        ("Atkinson Hyperlegible Mono", 400, "page-mono.woff2"),
    ):
        data = base64.b64encode((fonts_folder() / name).read_bytes()).decode()
        source = f"url(data:font/woff2;base64,{data}) format('woff2')"
        faces.append(f"@font-face{{font-family:'{family}';font-weight:{weight};src:{source}}}")
    return "".join(faces)


def _top(contents: dict) -> list[str]:
    lines = [
        f'<header><a class="skip" href="#records">{escape(words.LABELS["to_the_records"])}</a>',
        f'<p class="over">{escape(words.LABELS["record_of"])} · {escape(contents["workshop"])}</p>',
        f"<h1>{escape(words.LABELS['job'])} {escape(contents['number'])}</h1>",
        f"<p>{escape(contents['title'])}</p>",
    ]
    if contents["invented"]:
        lines.append(f'<p class="caution">{escape(contents["invented_words"])}</p>')
    lines.append(f'<p class="sort"><b>{escape(contents["sort_title"])}</b> {escape(contents["sort_words"])}</p>')
    lines.append(f'<p class="over"><a href="report.pdf">{escape(words.LABELS["as_pdf"])}</a></p></header>')
    lines.append(page_check.place())
    lines.append('<main><div class="top"><dl class="facts">')
    for fact in contents["facts"]:
        changed = fact["changed"]
        mark = (
            f' <span class="small">{escape(say("pack.page.amended_by"))} <a href="#e{changed}">{changed}</a></span>'
            if changed
            else ""
        )
        lines.append(f"<dt>{escape(fact['words'])}</dt><dd><b>{escape(fact['value'])}</b>{mark}</dd>")
    lines.append("</dl>")
    if contents["plan"]:
        plan = contents["plan"]
        lines.append(f'<figure class="plan">{_plan(plan)}<figcaption>{escape(plan["words"])}</figcaption></figure>')
    lines += ["</div>", f'<p class="small">{escape(contents["clock_words"])} {escape(contents["missing_words"])}</p>']
    return lines + ([f'<p class="small">{escape(contents["spoken_words"])}</p>'] if contents["spoken_words"] else [])


def _record(exhibit: Exhibit, files: dict[str, MediaFile]) -> list[str]:
    gone = " gone" if exhibit.withdrawn else ""
    lines = [
        f'<article class="record{gone}" id="e{exhibit.number}" data-position="{exhibit.position}">'
        f'<span class="balloon">{exhibit.number}</span><div>'
    ]
    if exhibit.was:
        lines.append(f'<p class="was">{escape(exhibit.was[0])} {escape(exhibit.was[1])}</p>')
    lines.append(f'<h3>{escape(exhibit.title)}</h3><p class="said">{escape(exhibit.text)}</p>')
    for answer in exhibit.corrections:
        lines.append(_answer("tag", say("pack.page.corrected_by"), answer))
    if exhibit.withdrawn:
        lines.append(_answer("tag solid", words.LABELS["withdrawn_by"], exhibit.withdrawn))
    if exhibit.about:
        lines.append(
            f'<p class="answer">{escape(say("pack.page.about_record"))} '
            f'<a href="#e{exhibit.about}">{exhibit.about}</a></p>'
        )
    own = [files[item["sha256"]] for item in exhibit.media if item["sha256"] in files]
    for file in own:
        lines += _shown(exhibit, file)
    lines += spoken(exhibit.spoken)
    by = " · ".join(part for part in (exhibit.author, exhibit.device, *clocks.time_remarks(exhibit)) if part)
    lines.append(f'<p class="small">{escape(by)}</p></div><dl class="times">')
    for name, value in (
        (words.LABELS["phone_time"], words.claimed_words(exhibit.claimed)),
        (words.LABELS["server_time"], clocks.received_words(exhibit.received)),
    ):
        lines.append(f'<dt>{name}</dt><dd class="mono">{escape(value)}</dd>')
    lines.append(f"<dt>{escape(words.LABELS['independent_time'])}</dt><dd>{escape(words.LABELS['none'])}</dd></dl>")
    lines.append(
        f'<details class="prints"><summary>{escape(say("pack.page.position", position=exhibit.position))}</summary>'
    )
    lines.append(f"<p>{escape(words.LABELS['record'])} <code>{exhibit.hash}</code></p>")
    for file in own:
        where = say("pack.page.file", length=file.length, where=_where(file))
        lines.append(f"<p>{escape(words.LABELS['file'])} <code>{file.sha256}</code>, {escape(where)}</p>")
    return [*lines, "</details></article>"]


def _shown(exhibit: Exhibit, file: MediaFile) -> list[str]:
    name = escape(exhibit.title, quote=True)
    if file.role == "audio" and file.given:
        return [f'<audio controls preload="none" src="{file.given.removeprefix("data/")}" aria-label="{name}"></audio>']
    lines = []
    if file.preview:
        alt = escape(say("pack.page.alt", number=exhibit.number, title=exhibit.title, text=exhibit.text), quote=True)
        image = f'<img src="previews/{file.preview}" alt="{alt}" loading="lazy">'
        full = file.given and file.given.removeprefix("data/")
        lines.append(f'<p class="picture">{f"<a href={chr(34)}{full}{chr(34)}>{image}</a>" if full else image}</p>')
    elif file.given:
        lines.append(
            f'<p><a href="{file.given.removeprefix("data/")}">{escape(file.name or say("pack.page.the_file"))}</a></p>'
        )
    for reason in filter(None, (file.fault, file.record["left_out"])):
        lines.append(f'<p class="missing">{escape(reason)}</p>')
    return lines


def _where(file: MediaFile) -> str:
    copy = file.record["copy"]
    if copy:
        removed = ", ".join(copy["removed"]) or say("pack.page.nothing_removed")
        return say("pack.page.copy_here", copy=copy["sha256"], scan=copy["scan_sha256"], removed=removed)
    return file.record["left_out"] or say("pack.page.original_here")


def _answer(sort: str, what: str, answer) -> str:
    number = f'<a href="#e{answer.exhibit}">{answer.exhibit}</a>'
    return (
        f'<p class="answer"><span class="{sort}">{what}</span> {number} {escape(answer.reason)} {escape(answer.by)}</p>'
    )


def _rests_on(contents: dict) -> list[str]:
    def listed(items: list[str]) -> str:
        return f'<ul class="list">{"".join(f"<li>{escape(item)}</li>" for item in items)}</ul>'

    lines = [
        f'<section class="cols"><div><h2>{escape(words.LABELS["shows"])}</h2>',
        listed(contents["shows"]),
        "</div><div>",
    ]
    lines += [
        f"<h2>{escape(words.LABELS['does_not_prove'])}</h2>",
        listed(contents["does_not_show"]),
        "</div></section>",
    ]
    lines.append(f'<p class="sort">{escape(contents["no_certificate"])}</p>')
    lines.append(f'<h2>{escape(words.LABELS["three_times"])}</h2><dl class="facts">')
    lines += [f"<dt>{escape(name)}</dt><dd>{escape(what)}</dd>" for name, what in contents["times"]]
    lines += [
        "</dl>",
        f'<p class="small">{escape(contents["original_words"])}</p>',
        f"<h2>{escape(words.LABELS['cautions'])}</h2>",
        listed(contents["cautions"]),
    ]
    lines.append(f"<h2>{escape(words.LABELS['how_to_check'])}</h2>")
    for title, commands in words.COMMANDS:
        lines.append(f"<p>{escape(title)}</p><pre><code>{escape(chr(10).join(commands))}</code></pre>")
    lines.append('<dl class="facts">')
    lines += [f'<dt>{escape(name)}</dt><dd class="mono">{escape(value)}</dd>' for name, value in contents["anchors"]]
    return [*lines, "</dl>"]


def _title_block(contents: dict) -> list[str]:
    fields = [
        (say("pack.block.owner"), contents["workshop"]),
        (say("pack.block.number"), contents["number"]),
        (words.LABELS["title"], contents["title"]),
        (words.LABELS["document"], contents["sort_title"]),
        (say("pack.block.issued"), contents["issued"]),
        (say("pack.block.head"), contents["head_words"]),
    ]
    inside = "".join(f"<div><dt>{escape(name)}</dt><dd>{escape(value)}</dd></div>" for name, value in fields)
    return [f'<footer><dl class="block">{inside}</dl></footer>']


def _plan(plan: dict) -> str:
    """The engine from above as a drawing, with a stroke for each record at a cylinder."""
    pitch, radius, row = 80, 30, 84
    most = max(len(bank["cylinders"]) for bank in plan["banks"])
    two = len(plan["banks"]) > 1
    width, height = most * pitch + 30, (2 * row if two else row) + 44
    drawn = [f'<svg viewBox="0 0 {width} {height}" role="img" aria-label="{escape(plan["alt"], quote=True)}">']
    drawn.append('<g fill="none" stroke="var(--ink)" stroke-width="1.2">')
    for number, bank in enumerate(plan["banks"][:2]):
        top, left = number * (row + 40) + 2, 6 + (14 if bank["late"] else 0)
        drawn.append(f'<rect x="{left}" y="{top}" width="{len(bank["cylinders"]) * pitch}" height="{row - 8}"/>')
        for place, cylinder in enumerate(bank["cylinders"]):
            x, y = left + pitch * (place + 0.5), top + (row - 8) / 2
            drawn.append(f'<circle cx="{x}" cy="{y}" r="{radius}" stroke-width="2"/>')
            drawn.append(_text(x, y + 3, 20, str(cylinder["number"])))
            drawn.append(
                f'<path stroke="var(--blue)" stroke-width="1.6" d="{_tally(cylinder["count"], x - 20, y + 10)}"/>'
            )
    axis = row + 16
    drawn.append(f'<path stroke="var(--line)" stroke-dasharray="14 4 3 4" d="M0 {axis}H{width}"/>')
    step = (most * pitch - 20) / max(plan["mains"] - 1, 1)
    for number in range(plan["mains"]):
        x = 16 + step * number
        drawn.append(f'<rect x="{x - 9}" y="{axis - 10}" width="18" height="20" fill="var(--paper)"/>')
        drawn.append(_text(x, axis + 5, 13, str(number + 1)))
    return "".join([*drawn, "</g></svg>"])


def _text(x: float, y: float, size: int, text: str) -> str:
    return (
        f'<text x="{x}" y="{y}" text-anchor="middle" font-size="{size}" font-weight="700" fill="var(--ink)" '
        f'stroke="none">{escape(text)}</text>'
    )


def _tally(count: int, x: float, y: float) -> str:
    strokes = []
    for number in range(min(count, 15)):
        group, place = divmod(number, 5)
        left = x + group * 16
        strokes.append(f"M{left - 2} {y + 9}l13-7" if place == 4 else f"M{left + place * 3} {y}v10")
    return "".join(strokes)
