"""What the phone would have heard: its own code, bundled and run in Node, on the same clips."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

from tests.bench.speech import noise, voices
from tests.bench.speech.hearing import Clip, Told
from tests.bench.speech.meaning import ENGINES

HERE = Path(__file__).resolve().parent
APP = HERE.parents[2] / "pwa"
ENGINE = "phone"


def hear(clips: list[Clip], folder: Path, cache: Path) -> list[Told]:
    """Each clip as heard on the phone, with the processor time of Node as `cpu`. Needs the apps' node_modules."""
    folder.mkdir(parents=True, exist_ok=True)
    rows, told = [], []
    for number, clip in enumerate(clips):
        speech = voices.spoken(clip.voice, {clip.line.number: clip.line.words}, cache)[clip.line.number]
        sound = noise.recorded(speech, noise.LEVELS[clip.level], clip.seed)
        raw = folder / f"{number}.raw"
        raw.write_bytes(sound)
        subject = {"screen": clip.line.screen(), "engine_type": ENGINES[clip.line.engine], "own": []}
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
