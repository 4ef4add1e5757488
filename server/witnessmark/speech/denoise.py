"""Takes steady noise out of speech: RNNoise (Valin 2018, arXiv:1709.08243), in 10 ms frames at 48 kHz.

The package pyrnnoise brings the library; its own modules pull in a player and a plotter, so they are left alone and
the library is called directly. For the closed recognisers only: free ones were made with noise and hear less without.
Belongs into the fenced-in process. numpy is brought in by the work itself: whether the library is there can be asked
where it is not installed.
"""

from __future__ import annotations

import ctypes
import sys
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy

PACKAGE = "pyrnnoise"
RATE = 48_000
FRAME = 480  # samples
DELAY = 2 * FRAME  # the library answers so much later; measured on speech, the test does it again
LIBRARIES = {"linux": "librnnoise.so", "darwin": "librnnoise.dylib", "win32": "rnnoise.dll"}


def library() -> Path | None:
    """The library among the installed files of its package; None when it is not there."""
    wanted = LIBRARIES.get(sys.platform, "")
    try:
        files = metadata.files(PACKAGE) or []
    except metadata.PackageNotFoundError:
        return None
    libraries = [Path(str(file.locate())) for file in files if file.name == wanted]
    return next((path for path in libraries if path.is_file()), None)


class Denoiser:
    """One sound after another: `feed` pieces of any length, `finish` for what is left. Not for several threads.

    What comes out is as long as what went in and lies in step with it. `speech` holds for each 10 ms that went in how
    likely somebody speaks, 0 to 1, and a few values for the silence put behind the end.
    """

    def __init__(self, path: Path):
        import numpy

        self._numpy = numpy
        self._library = ctypes.CDLL(str(path))
        floats = ctypes.POINTER(ctypes.c_float)
        self._library.rnnoise_create.argtypes = [ctypes.c_void_p]
        self._library.rnnoise_create.restype = ctypes.c_void_p
        self._library.rnnoise_destroy.argtypes = [ctypes.c_void_p]
        self._library.rnnoise_process_frame.argtypes = [ctypes.c_void_p, floats, floats]
        self._library.rnnoise_process_frame.restype = ctypes.c_float
        self._library.rnnoise_get_frame_size.restype = ctypes.c_int
        if self._library.rnnoise_get_frame_size() != FRAME:
            raise OSError(f"{path.name} works in other frames than {FRAME} samples.")
        self._state = self._library.rnnoise_create(None)
        self._left = numpy.zeros(0, numpy.float32)
        self._given = 0
        self._out = 0
        self._late = DELAY
        self.speech: list[float] = []

    def feed(self, samples: numpy.ndarray) -> numpy.ndarray:
        """Samples of -32768 to 32767 at 48 kHz, any number type; returns int16 of what is done so far."""
        self._given += len(samples)
        numpy = self._numpy
        return self._work(numpy.concatenate([self._left, samples.astype(numpy.float32)]))

    def finish(self) -> numpy.ndarray:
        """The rest, and an end to it."""
        numpy, missing = self._numpy, self._given - self._out
        rest = self._work(numpy.concatenate([self._left, numpy.zeros(3 * FRAME, numpy.float32)]))[:missing]
        self.close()
        return rest

    def close(self) -> None:
        if self._state:
            self._library.rnnoise_destroy(self._state)
            self._state = None

    def _work(self, samples: numpy.ndarray) -> numpy.ndarray:
        numpy, whole = self._numpy, len(samples) // FRAME * FRAME
        self._left = samples[whole:]
        frames = numpy.ascontiguousarray(samples[:whole])
        made = numpy.empty_like(frames)
        step = FRAME * frames.itemsize
        floats = ctypes.POINTER(ctypes.c_float)
        for at in range(0, frames.nbytes, step):
            source = ctypes.cast(frames.ctypes.data + at, floats)
            target = ctypes.cast(made.ctypes.data + at, floats)
            self.speech.append(float(self._library.rnnoise_process_frame(self._state, target, source)))
        late = min(self._late, whole)
        made, self._late = made[late:], self._late - late
        self._out += len(made)
        return numpy.clip(numpy.rint(made), -32768, 32767).astype(numpy.int16)
