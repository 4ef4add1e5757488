"""The process that turns a sound file into samples, fenced in. Started by speech.decode.

One line of JSON in, one out:
  {"path": "...", "raw": "...", "clean": "..."}
    -> {"seconds": 4.2, "speech": [310, 3980] or null, "denoised": true, "fault": "", "done": true}
`raw` and `clean` are written as signed 16 bit, one channel, 16 kHz; `clean` with noise taken out, for the first
CLEAN_SECONDS only. What was decoded before a fault counts.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

from witnessmark.media.sniff import HEAD_BYTES, PICTURES, sniff
from witnessmark.speech import denoise, endpoint, fence
from witnessmark.speech.recogniser import RATE
from witnessmark.trade.ground.sentences import say

MEMORY = 900 << 20  # bytes of address space; the libraries alone are mapped with 400 MB
CPU_SECONDS = 40  # for one sound
MOST_SECONDS = 600  # of sound; more is not a note but a day left running
CLEAN_SECONDS = 60  # denoised is only what a closed recogniser may hear

# Our own reading of the first bytes says which of FFmpeg's readers may look at the file: left to guess, it would also
# follow a list of other files and addresses. A phone writes one of these codings, nothing else is let near a decoder.
READERS = {
    "audio/webm": "matroska,webm", "audio/ogg": "ogg", "audio/wav": "wav",
    "audio/mp4": "mov,mp4,m4a,3gp,3g2,mj2", "video/mp4": "mov,mp4,m4a,3gp,3g2,mj2",
}  # fmt: skip
CODINGS = ("opus", "libopus", "vorbis", "aac", "mp3", "mp3float", "flac", "alac")


class NoSound(Exception):
    """The file cannot be listened to; a sentence."""


def decode(path: str, raw: str, clean: str) -> dict:
    """Samples of one sound; what went wrong is returned in words, never raised."""
    work = _Work()
    fault = ""
    try:
        with ExitStack() as stack:
            outs = [stack.enter_context(Path(name).open("wb")) for name in (raw, clean)]
            fault = work.run(path, *outs)
    except NoSound as reason:
        fault = str(reason)
    except MemoryError:
        fault = say("server.sounds.too_much_memory")
    except Exception as reason:  # a decoder may raise anything at all; the sound is evidence all the same
        fault = say("server.sounds.cut_off_before_end", reason=type(reason).__name__)
    return {
        "seconds": round(work.samples / RATE, 3),
        "speech": work.span(),
        "denoised": work.denoised,
        "fault": fault,
        "done": True,
    }


class _Work:
    """One sound on its way from the file to the samples."""

    def __init__(self):
        self.samples = 0
        self.denoised = False
        self.levels: list[float] = []
        self.likely: list[float] = []

    def run(self, path: str, raw, clean) -> str:
        """Writes the samples; returns a sentence when it did not come to the end. Raises NoSound and much else."""
        import numpy
        from av import AudioFrame, AudioResampler

        plain = AudioResampler(format="s16", layout="mono", rate=RATE)
        wide = AudioResampler(format="s16", layout="mono", rate=denoise.RATE)
        narrow = AudioResampler(format="s16", layout="mono", rate=RATE)
        library = denoise.library()
        cleaner = denoise.Denoiser(library) if library else None
        self.denoised = cleaner is not None
        self._left = numpy.zeros(0, numpy.int16)

        def denoised(samples) -> None:
            if samples.size:
                frame = AudioFrame.from_ndarray(samples.reshape(1, -1), format="s16", layout="mono")
                frame.rate = denoise.RATE
                clean.write(_bytes(narrow.resample(frame)))

        fault = ""
        try:
            for frame in _frames(path):
                again = _copy(frame) if cleaner and self.samples <= CLEAN_SECONDS * RATE else None
                piece = _bytes(plain.resample(frame))
                raw.write(piece)
                self._measure(numpy.frombuffer(piece, numpy.int16))
                if again:
                    denoised(cleaner.feed(numpy.frombuffer(_bytes(wide.resample(again)), numpy.int16)))
                if self.samples >= MOST_SECONDS * RATE:
                    fault = say("server.sounds.too_long_file", count=MOST_SECONDS // 60)
                    break
        except Exception as reason:
            if not self.samples:
                raise
            memory = isinstance(reason, MemoryError)
            why = say("server.sounds.more_memory") if memory else type(reason).__name__
            fault = say("server.sounds.cut_off", seconds=f"{self.samples / RATE:.1f}", reason=why)
        piece = _bytes(plain.resample(None))
        raw.write(piece)
        self._measure(numpy.frombuffer(piece, numpy.int16))
        if cleaner:
            denoised(cleaner.finish())
            clean.write(_bytes(narrow.resample(None)))
            self.likely = cleaner.speech
        if not self.samples and not fault:
            raise NoSound(say("server.sounds.no_moment"))
        return fault

    def span(self) -> tuple[int, int] | None:
        """Where somebody speaks, in ms."""
        length = self.samples * 1000 // RATE
        if self.denoised and self.samples <= CLEAN_SECONDS * RATE:
            return endpoint.speech(self.likely[: length // endpoint.FRAME_MS + 1], length)
        return endpoint.speech(endpoint.likely_by_level(self.levels), length)

    def _measure(self, samples) -> None:
        """The level of each 10 ms, in dB of full scale."""
        import numpy

        self.samples += len(samples)
        step = RATE * endpoint.FRAME_MS // 1000
        samples = numpy.concatenate([self._left, samples])
        whole = len(samples) // step * step
        self._left = samples[whole:]
        frames = samples[:whole].reshape(-1, step).astype(numpy.float32) / 32768
        self.levels += (10 * numpy.log10(numpy.square(frames).mean(axis=1) + 1e-10)).tolist()


def _frames(path: str) -> Iterator:
    """The decoded frames of the first sound in the file. Raises NoSound, or whatever the decoder raises."""
    import av

    with Path(path).open("rb") as file:
        head = file.read(HEAD_BYTES)
    if not head:
        raise NoSound(say("server.sounds.empty"))
    kind = sniff(head)
    if kind in PICTURES:
        raise NoSound(say("server.sounds.picture"))
    if kind not in READERS:
        raise NoSound(say("server.sounds.damaged"))
    with av.open(path, format=READERS[kind], options={"protocol_whitelist": "file"}) as container:
        if not container.streams.audio:
            raise NoSound(say("server.sounds.none_in_it"))
        stream = container.streams.audio[0]
        coding = stream.codec_context.name
        if coding not in CODINGS and not coding.startswith("pcm_"):
            raise NoSound(say("server.sounds.unknown_coding", coding=coding[:20]))
        stream.codec_context.thread_count = 1
        yield from container.decode(stream)


def _copy(frame):
    """A frame for a second resampler: the first one changes what a wav leaves open, where its channels are."""
    from av import AudioFrame

    layout = {1: "mono", 2: "stereo"}.get(frame.layout.nb_channels, frame.layout.name)
    made = AudioFrame.from_ndarray(frame.to_ndarray(), format=frame.format.name, layout=layout)
    made.rate, made.pts, made.time_base = frame.sample_rate, frame.pts, frame.time_base
    return made


def _bytes(frames) -> bytes:
    """The samples of one-channel 16 bit frames; a plane may be longer than what is in it."""
    return b"".join(bytes(frame.planes[0])[: frame.samples * 2] for frame in frames)


def main() -> None:
    fence.close_in(MEMORY)
    for line in sys.stdin:
        fence.grant_time(CPU_SECONDS)
        wish = json.loads(line)
        print(json.dumps(decode(wish["path"], wish["raw"], wish["clean"])), flush=True)


if __name__ == "__main__":
    main()
