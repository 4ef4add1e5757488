"""A technician who speaks: committed clips as what the microphone hears, and the acts of one who talks to a phone."""

from __future__ import annotations

import io
import random
import wave
from pathlib import Path

import av
from playwright.sync_api import Page

from tests.support.bay import Bay
from tests.support.clips import clip
from tests.support.waiting import expect

RATE = 48_000
BEFORE = 0.6  # seconds of quiet before a word is said: nobody speaks in the moment of the touch
WHOLE = 20  # seconds of the file: longer than anybody holds, so that it never begins anew
FETCH_MS = 60_000
HEARD_MS = 45_000


def samples(file: str) -> bytes:
    """A clip as 16 bit samples of one channel at RATE."""
    resampler = av.AudioResampler(format="s16", layout="mono", rate=RATE)
    with av.open(io.BytesIO(clip(file))) as opened:
        frames = [out for frame in opened.decode(audio=0) for out in resampler.resample(frame)]
    frames += resampler.resample(None)
    return b"".join(bytes(frame.planes[0])[: frame.samples * 2] for frame in frames)


def seconds(file: str) -> float:
    return len(samples(file)) / 2 / RATE


def microphone(file: str, folder: Path) -> tuple[str, ...]:
    """What makes a Chromium hear this clip each time its microphone opens: quiet, the clip, quiet to the end.

    The file is made once in a folder; tests that give the same folder share one browser for each clip.
    """
    path = folder / f"{Path(file).stem}.wav"
    if not path.exists():
        _record(file, path)
    return (f"--use-file-for-fake-audio-capture={path}%noloop",)


def _record(file: str, path: Path) -> None:
    by_chance = random.Random(4)
    quiet = b"".join(by_chance.randint(-6, 6).to_bytes(2, "little", signed=True) for _ in range(RATE))
    spoken = samples(file)
    sound = quiet[: int(BEFORE * RATE) * 2] + spoken + quiet * (WHOLE - int(len(spoken) / 2 / RATE))
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(sound)


def fetch_parts(bay: Bay) -> None:
    """The speech parts, fetched in the settings while there is a signal."""
    bay.page.goto(f"{bay.url}/bay/#/settings")
    bay.page.get_by_role("button", name="Download the speech parts").click()
    expect(bay.page.get_by_text("The speech parts are on this phone")).to_be_visible(timeout=FETCH_MS)


def talk(page: Page):
    return page.get_by_role("button", name="Say it")


def hold_down(page: Page) -> None:
    """Presses the button with a finger; returns when it listens."""
    box = talk(page).bounding_box()
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    expect(page.get_by_text("Listening. Let go of the button when you have finished.")).to_be_visible()


def hold(page: Page, length: float) -> None:
    """Presses the button, speaks for so many seconds, and lets go."""
    hold_down(page)
    page.wait_for_timeout(int(length * 1000))
    page.mouse.up()


def say_clip(page: Page, file: str) -> None:
    """Holds as long as the clip takes, and a breath longer."""
    hold(page, BEFORE + seconds(file) + 0.4)


def chips(page: Page) -> dict[str, str]:
    """What was understood: label of each compartment -> its words, once it is there."""
    frame = page.get_by_role("group", name="As it was understood")
    expect(frame).to_be_visible(timeout=HEARD_MS)
    cells = frame.locator(".said-cell").evaluate_all(
        "cells => cells.map((one) => [one.querySelector('.cell-label').innerText,"
        " one.querySelector('.said-words').innerText.trim()])"
    )
    return {label.split(",")[0]: words for label, words in cells}


def sounds(bay: Bay) -> list[dict]:
    """The recordings on this phone as entries, in their order."""
    return sorted(
        (row["entry"] for row in bay.rows("entries", kind="sound_recorded")), key=lambda entry: entry["sequence"]
    )


def made(bay: Bay, kind: str) -> list[dict]:
    return sorted((row["entry"] for row in bay.rows("entries", kind=kind)), key=lambda entry: entry["sequence"])
