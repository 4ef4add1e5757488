"""How much memory hearing takes, in MB: measured in a process that does nothing else."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tests.bench.speech.hearing import ENGINES, cut
from tests.bench.speech.lines import V6
from witnessmark import config
from witnessmark.speech import chain, choosing, decode_worker, lexicon
from witnessmark.speech.together import Together

CLIP = Path(__file__).resolve().parents[2] / "clips" / "bore_3_thrust.webm"


def weigh(engine: str) -> int:
    """The most this process held at once while `engine` heard one clip: 'decode' only the samples, 'chain' all."""
    with tempfile.TemporaryDirectory(prefix="witnessmark-bench-") as folder:
        raw, clean = (Path(folder) / name for name in ("raw", "clean"))
        span = decode_worker.decode(str(CLIP), str(raw), str(clean))["speech"]
        samples = {False: cut(raw.read_bytes(), span), True: cut(clean.read_bytes(), span)}
    if engine != "decode":
        about = {"engine_type": ENGINES[V6]}
        usable, _ = choosing.look(config.from_environment())
        words = lexicon.lexicon(about)
        asked = usable if engine == chain.ID else {engine: usable[engine]}
        heard = {id: one.hear(samples[one.denoised], words) for id, one in asked.items()}
        if engine == chain.ID:
            Together(usable).hear(samples[False], words, about, heard)
    # Not getrusage: that remembers what the process held that started this one.
    status = Path("/proc/self/status").read_text()
    return next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM")) // 1024
