"""`python -m tests.bench speech` or `speech:60`: how well the recognisers hear a shuffled prefix of all clips.

Synthetic voices, noise added afterwards, and lines by the hand that wrote the grammar: a bound from above, no promise.
WITNESSMARK_BENCH_CLIPS names a folder where spoken clips are kept between runs, WITNESSMARK_BENCH_PIPER a python that
has the voices of piper. Prints its own table first, by ear and by noise; then the goals as lines like all benchmarks.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from tests.bench.common import Line
from tests.bench.speech import lines, tally, voices
from tests.bench.speech.hearing import Listener, Told, clips
from tests.bench.speech.meaning import complete, proposal, right
from witnessmark import config
from witnessmark.speech import chain

COUNT = 120
PAIR = ("sphinx_ngram", "sphinx_grammar")
GROUPS: dict[str, Callable[[Told], bool]] = {
    "natural, quiet": lambda one: one.clip.voice.natural and one.clip.level in tally.QUIET,
    "natural, 10 dB": lambda one: one.clip.voice.natural and one.clip.level == "10 dB",
    "natural, 5 dB": lambda one: one.clip.voice.natural and one.clip.level == "5 dB",
    "espeak, all": lambda one: not one.clip.voice.natural,
}


def run(folder: Path, count: int = COUNT) -> list[Line]:
    os.environ.setdefault("WITNESSMARK_DATA", str(folder / "data"))
    cache = Path(os.environ.get("WITNESSMARK_BENCH_CLIPS", folder / "clips"))
    there = []
    for voice in voices.VOICES:
        if why := voice.why_not():
            print(f"The voice {voice.name} is missing: {why}.", flush=True)
        else:
            there.append(voice)
    listener = Listener(config.from_environment(), cache)
    for id, why in listener.others.items():
        print(f"{id} is not measured: {why}", flush=True)
    told = [listener.hear(clip) for clip in clips(there, count)]
    print("\n".join(table(told, [*listener.usable, chain.ID])), flush=True)
    return [parser(), *goals(told), *(cost(told, engine) for engine in ["decode", *listener.usable, chain.ID])]


def table(told: list[Told], engines: list[str]) -> list[str]:
    """A row for each ear and for agreement, by group; 'right / said (complete but wrong), word errors'."""
    rows = [f"| | {' | '.join(GROUPS)} |", "| --- |" + " --- |" * len(GROUPS)]
    groups = [[one for one in told if belongs(one)] for belongs in GROUPS.values()]
    for engine in engines:
        cells = [
            cell(tally.of_text([one for one in g if one.clip.line.means], tally.of_engine(engine))) for g in groups
        ]
        rows.append(f"| {engine} | {' | '.join(cells)} |")
    for name, of in (("all agree", None), ("the two of sphinx agree", PAIR)):
        found = [tally.agreement(group, of) for group in groups]
        cells = [f"{a.agreed} of {a.said}, {a.wrong} wrong; talk {a.taken} of {a.chatter}" for a in found]
        rows.append(f"| {name} | {' | '.join(cells)} |")
    notes = [tally.of_text([one for one in g if not one.clip.line.means], tally.of_engine("whisper")) for g in groups]
    rows.append(f"| whisper, notes and chatter, word errors | {' | '.join(f'{n.rate:.0%}' for n in notes)} |")
    return rows


def cell(found: tally.Tally) -> str:
    return f"{found.right}/{found.said} {found.share:.0%} ({found.wrong}), {found.rate:.0%}"


def goals(told: list[Told]) -> list[Line]:
    quiet, at_10 = ([one for one in told if GROUPS[name](one)] for name in ("natural, quiet", "natural, 10 dB"))
    best = [
        tally.of_text([t for t in group if t.clip.line.means], tally.of_engine(chain.ID)) for group in (quiet, at_10)
    ]
    agreed = tally.agreement(quiet)
    free = tally.of_text(quiet, tally.of_engine("whisper"))
    wrong = agreed.wrong / agreed.agreed if agreed.agreed else 0.0
    return [
        _share("spoken readings, natural voices, quiet: all slots right, chain", best[0], 0.80),
        _share("the same at 10 dB", best[1], 0.65),
        Line(
            "agreed on in quiet, and wrong",
            f"{wrong:.1%}",
            f"{agreed.wrong} of {agreed.agreed}; {agreed.said} were said",
            "",
            "under 2 %",
            wrong < 0.02,
        ),
        Line(
            "word errors of free dictation in quiet",
            f"{free.rate:.1%}",
            f"{free.errors} of {free.words} words",
            "",
            "under 15 %",
            free.rate < 0.15,
        ),
    ]


def _share(work: str, found: tally.Tally, goal: float) -> Line:
    return Line(
        work, f"{found.share:.0%}", f"{found.right} of {found.said}", "", f"at least {goal:.0%}", found.share >= goal
    )


def parser() -> Line:
    """Of the exact text of every line that means something."""
    said = [line for line in lines.LINES if line.means]
    met = 0
    for line in said:
        found = proposal(line.words, line)
        met += right(found, line) and complete(found, line)
    text = f"{met} of {len(said)}"
    return Line("lines read from their exact text", text, "", "", "all of them", met == len(said))


def cost(told: list[Told], engine: str) -> Line:
    """Processor time for each second of sound, and the memory of a process that does nothing else."""
    asked = [one for one in told if engine in one.cpu]
    share = sum(one.cpu[engine] for one in asked) / max(1e-9, sum(one.seconds for one in asked))
    code = f"from tests.bench.speech.weigh import weigh; print(weigh({engine!r}))"
    told_mb = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    memory = told_mb.stdout.strip().splitlines()[-1]
    return Line(f"{engine}: processor seconds for a second of sound", f"{share:.2f}", f"{memory} MB", "", "", None)
