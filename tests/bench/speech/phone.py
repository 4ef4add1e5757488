"""What the phone would have heard: its own code, bundled and run in Node, on the same clips.

`python -m tests.bench.speech.phone [readings] [chatter]` of each level, of the lines that set no bound.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.bench.speech import noise, tally, voices
from tests.bench.speech.hearing import Clip, Told, clips
from tests.bench.speech.meaning import ENGINES

HERE = Path(__file__).resolve().parent
APP = HERE.parents[2] / "pwa"
ENGINE = "phone"
LEVELS = ("clean", "20 dB", "10 dB")
READINGS, CHATTER = 14, 5  # of each level, unless told otherwise


def hear(sample: list[Clip], folder: Path, cache: Path) -> list[Told]:
    """Each clip as heard on the phone, with the processor time of Node as `cpu`. Needs the apps' node_modules."""
    folder.mkdir(parents=True, exist_ok=True)
    rows, told = [], []
    for number, clip in enumerate(sample):
        speech = voices.spoken(clip.voice, {clip.line.number: clip.line.words}, cache)[clip.line.number]
        sound = noise.recorded(speech, noise.LEVELS[clip.level], clip.seed)
        raw = folder / f"{number}.raw"
        raw.write_bytes(sound)
        screen = clip.line.screen()
        if clip.line.sort == "chatter":  # there is no screen for it: it is heard where somebody measures or looks
            screen["sort"] = ("finding", "measure")[number % 2]
        subject = {"screen": screen, "engine_type": ENGINES[clip.line.engine], "own": []}
        rows.append({"raw": str(raw), "subject": subject})
        told.append(Told(clip, len(sound) / 2 / noise.RATE))
    listed = folder / "clips.json"
    listed.write_text(json.dumps(rows))
    # Beside the packages that it looks for.
    bundle = APP / "node_modules" / ".cache" / "bench-phone.mjs"
    bundle.parent.mkdir(exist_ok=True)
    command = ["node_modules/.bin/rolldown", str(HERE / "phone.ts"), "--platform", "node", "--format", "esm"]
    command += ["--external", "soundswallower", "-o", str(bundle)]
    subprocess.run(command, cwd=APP, check=True, stdout=subprocess.DEVNULL)
    answers = subprocess.run(["node", str(bundle), str(APP), str(listed)], capture_output=True, text=True, check=True)
    for one, line in zip(told, [x for x in answers.stdout.splitlines() if x.startswith("{")], strict=True):
        answer = json.loads(line)
        one.results.append({"engine": ENGINE, "text": answer["text"], "sort": "closed", "why": answer["why"]})
        one.cpu[ENGINE] = answer["ms"] / 1000
    return told


def held_out(readings: int, chatter: int) -> list[Clip]:
    """Clips of natural voices and of the half of the lines that set no bound, as many of each level."""
    there = [voice for voice in voices.VOICES if voice.natural and not voice.why_not()]
    found = [clip for clip in clips(there, sys.maxsize) if clip.line.half == 1]
    said = [clip for clip in found if clip.line.means]
    talk = [clip for clip in found if clip.line.sort == "chatter"]
    return [
        clip
        for some, count in ((said, readings), (talk, chatter))
        for level in LEVELS
        for clip in [one for one in some if one.level == level][:count]
    ]


def main(readings: int = READINGS, chatter: int = CHATTER) -> None:
    with tempfile.TemporaryDirectory(prefix="witnessmark-phone-") as folder:
        cache = Path(os.environ.get("WITNESSMARK_BENCH_CLIPS", Path(folder) / "voices"))
        answer = hear(held_out(readings, chatter), Path(folder) / "clips", cache)
    for level in LEVELS:
        here = [one for one in answer if one.clip.level == level]
        found = tally.of_text([one for one in here if one.clip.line.means], tally.of_engine(ENGINE))
        talk = [one for one in here if not one.clip.line.means]
        taken = sum(bool(one.results[0]["text"]) for one in talk)
        print(f"{level}: {found.right} of {found.said} right, {found.wrong} complete and wrong; ", end="")
        print(f"of {len(talk)} of chatter {taken} understood")
    cpu, seconds = sum(one.cpu[ENGINE] for one in answer), sum(one.seconds for one in answer)
    print(f"{cpu / seconds:.2f} s of processor for a second of sound")


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:]))
