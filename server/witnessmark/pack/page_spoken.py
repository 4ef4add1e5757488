"""The transcript of a recording, on the page of a pack: read without a script, lit word by word with one."""

from __future__ import annotations

from html import escape
from pathlib import Path

from witnessmark.pack.page_figures import tag
from witnessmark.pack.spoken import Said
from witnessmark.pack.words import LABELS
from witnessmark.trade.ground.sentences import say

ROOM = Path(__file__).parent


def spoken(transcript: Said | None) -> list[str]:
    """The words under a recording, who stands behind them, and what each recogniser heard in small print; [] for a
    record that is no recording."""
    if transcript is None:
        return []
    lines = ['<div class="spoken">']
    if transcript["text"]:
        lines.append(f'<p class="words">{_words(transcript)}</p>')
    by = f" {escape(transcript['by'])}" if transcript["by"] else ""
    lines.append(f'<p class="spoken-by">{tag(transcript["form"], transcript["label"])}{by}</p>')
    if transcript["remark"]:
        lines.append(f'<p class="small">{escape(LABELS["remark"])} {escape(transcript["remark"])}</p>')
    lines += [
        f'<p class="query"><span class="tag solid">{escape(LABELS["query"])}</span> {escape(words)}</p>'
        for words in transcript["queries"]
    ]
    if transcript["heard"]:
        lines.append(f"<details><summary>{escape(LABELS['heard'])}</summary>")
        for hearing in transcript["heard"]:
            lines.append(f'<p>{escape(hearing["text"])}<br><span class="small">{escape(hearing["small"])}</span></p>')
        lines.append("</details>")
    return [*lines, "</div>"]


def _words(transcript: Said) -> str:
    if not transcript["words"]:
        return escape(transcript["text"])
    return " ".join(
        f'<span data-from="{start}" data-to="{end}">{escape(word)}</span>' for word, start, end in transcript["words"]
    )


def recognisers(contents: dict) -> list[str]:
    """The recognisers that listened with their whole hashes; [] where none did."""
    if not contents["recognisers"]:
        return []
    lines = [f'<section class="figures"><h2>{escape(contents["recognisers_head"])}</h2>']
    lines.append(f"<p>{escape(contents['recognisers_words'])}</p>")
    for recogniser in contents["recognisers"]:
        lines.append(
            f'<p><b class="mono">{escape(recogniser["name"])}</b> {escape(recogniser["sort"])}</p>'
            '<dl class="facts small">'
        )
        for name, value in (
            (LABELS["model"], recogniser["model"]),
            (say("pack.spoken.its_hash"), recogniser["model_sha256"]),
            (say("pack.spoken.vocabulary_hash"), recogniser["vocabulary"]),
        ):
            lines.append(f'<dt>{name}</dt><dd class="mono">{escape(value)}</dd>')
        lines.append("</dl>")
    return [*lines, "</section>"]


def script(contents: dict) -> list[str]:
    """The script that lights the words; none where nothing was said."""
    return [(ROOM / "page.js").read_text()] if contents["spoken_words"] else []
