"""Recognisers that somebody else's package would bring: a distribution on sys.path, as pip would leave it there."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

CODE = """
import mmap, os, time

from witnessmark.speech.recogniser import Heard, Unusable, Word


class Parrot:
    id, version, model, sort, denoised = "parrot", "0.3", "a list of one saying", "free", False
    model_sha256 = "ab" * 32

    def hear(self, samples, lexicon):
        seconds = len(samples) / 32000
        return Heard("bore three is fine", (Word("bore", 0, 300, 0.9), Word("three", 300, 9_999_999, 2.5)), 0.8)


def make(settings):
    return Parrot()


def make_sad(settings):
    raise Unusable("It has lost its voice.", "Give it a rest.")


def make_broken(settings):
    return 1 / 0


class Glutton(Parrot):
    id = "glutton"

    def hear(self, samples, lexicon):
        kept = []
        while True:
            kept.append(mmap.mmap(-1, 64 << 20))  # asked for, never touched: the limit is one of address space


class Suicide(Parrot):
    id = "suicide"

    def hear(self, samples, lexicon):
        os.kill(os.getpid(), 9)


class Liar(Parrot):
    id = "somebody_else"


class Chatterbox(Parrot):
    id = "chatterbox"

    def hear(self, samples, lexicon):
        print("I print whatever comes to my mind", flush=True)
        os.write(1, b"also like this\\n")
        return Heard("all well", (), float("nan"))


class Slow(Parrot):
    id = "slow"

    def hear(self, samples, lexicon):
        time.sleep(2)
        return Heard("slowly spoken", (), 0.5)


class Mute(Parrot):
    id = "mute"

    def hear(self, samples, lexicon):
        raise ValueError("no voice")
"""
NAMES = {
    "parrot": "make", "sad": "make_sad", "broken": "make_broken", "glutton": "Glutton", "suicide": "Suicide",
    "liar": "Liar", "chatterbox": "Chatterbox", "mute": "Mute", "slow": "Slow",
}  # fmt: skip


def install(folder: Path, *names: str) -> None:
    """A tiny distribution in `folder` that offers these recognisers."""
    (folder / "invented_voices.py").write_text(
        CODE.replace("(Parrot):", "(Parrot):\n    def __init__(self, settings=None):\n        pass\n")
    )
    info = folder / "invented_voices-0.3.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: invented-voices\nVersion: 0.3\n")
    lines = "\n".join(f"{name} = invented_voices:{NAMES[name]}" for name in names)
    (info / "entry_points.txt").write_text(f"[witnessmark.recognisers]\n{lines}\n")


@pytest.fixture
def others(tmp_path, monkeypatch) -> Callable[..., None]:
    """Installs recognisers of somebody else's, for this test and the processes it starts."""

    def bring(*names: str) -> None:
        folder = tmp_path / "others"
        folder.mkdir()
        install(folder, *names)
        monkeypatch.setattr(sys, "path", [*sys.path, str(folder)])

    return bring
