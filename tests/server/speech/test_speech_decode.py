"""A sound becomes samples in a process that may die of it; the original stays, and a sentence says what was wrong."""

from __future__ import annotations

import os
import re
import resource
import signal
import struct
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from tests.support.clips import CLIPS, clip
from tests.support.media import jpeg
from tests.support.sounds import as_wav, in_container, samples_of
from witnessmark.speech import decode, decode_worker, denoise, endpoint
from witnessmark.speech.decode import Decoder
from witnessmark.speech.recogniser import RATE

PLAIN = "bore_3_thrust.webm"


@pytest.fixture(scope="module")
def decoder():
    made = Decoder()
    yield made
    made.close()


@pytest.fixture
def spoken(tmp_path, decoder) -> np.ndarray:
    """The samples of a clip, to be put into other containers."""
    return samples_of(clip(PLAIN), tmp_path, decoder)[1]


@pytest.mark.parametrize("file", CLIPS)
def test_a_clip_is_cut_to_where_somebody_speaks(file, tmp_path, decoder):
    """The clips begin with half a second of a quiet room and end with 0.8 s of it, see tests/clips/make.py."""
    sound, raw = samples_of(clip(file), tmp_path, decoder)
    begin, end = sound.speech

    assert sound.fault == ""
    assert sound.seconds == pytest.approx(len(raw) / RATE, abs=0.001)
    assert sound.clean.stat().st_size == pytest.approx(2 * len(raw), abs=2 * RATE // 50)
    assert 100 <= begin <= 700
    assert sound.seconds * 1000 - 900 <= end <= sound.seconds * 1000


@pytest.mark.parametrize(
    "sort, codec, options",
    [
        ("webm", "libopus", {}),
        ("ogg", "libopus", {}),
        ("mp4", "libopus", {}),
        ("ipod", "aac", {}),
        ("mp4", "aac", {"movflags": "frag_keyframe+empty_moov+default_base_moof"}),
    ],
)
def test_every_container_that_phones_write_is_listened_to(sort, codec, options, spoken, tmp_path, decoder):
    sound, raw = samples_of(in_container(spoken, sort, codec, **options), tmp_path, decoder)

    assert sound.fault == ""
    assert sound.seconds == pytest.approx(len(spoken) / RATE, abs=0.1)
    assert np.abs(raw).max() > 8000


def test_a_wav_comes_out_as_it_went_in(spoken, tmp_path, decoder):
    """16 kHz in, 16 kHz out: nothing is resampled, so nothing may change."""
    _, raw = samples_of(as_wav(spoken), tmp_path, decoder)

    assert np.array_equal(raw, spoken)


@pytest.mark.parametrize(
    "sort, codec, options",
    [
        ("webm", "libopus", {}),
        ("ogg", "libopus", {}),
        ("mp4", "aac", {"movflags": "frag_keyframe+empty_moov+default_base_moof"}),
    ],
)
def test_a_recording_cut_off_on_the_way_is_heard_up_to_the_cut(sort, codec, options, spoken, tmp_path, decoder):
    whole = in_container(spoken, sort, codec, **options)
    sound, raw = samples_of(whole[: len(whole) * 6 // 10], tmp_path, decoder)
    full = len(spoken) / RATE

    assert 0.4 * full < sound.seconds < 0.75 * full
    assert sound.speech is not None and np.abs(raw).max() > 8000
    assert "seconds" in sound.fault or sort != "mp4"


@pytest.mark.parametrize(
    "what, data, told",
    [
        ("nothing at all", b"", "empty"),
        ("random bytes", os.urandom(5_000), "damaged at the start"),
        ("random bytes behind a good head", clip(PLAIN)[:48] + os.urandom(5_000), "damaged"),
        ("an Ogg of noise", b"OggS\x00\x02" + os.urandom(5_000), "damaged"),
        ("a wav without a word", b"RIFF\x24\x00\x00\x00WAVEfmt ", "damaged"),
        ("a picture", jpeg(), "picture"),
        ("a list of other files", b"#EXTM3U\n#EXT-X-TARGETDURATION:1\n#EXTINF:1,\n/etc/hostname\n", "of a kind"),
    ],
)
def test_what_cannot_be_listened_to_is_told_in_a_sentence(what, data, told, tmp_path, decoder):
    sound, _ = samples_of(data, tmp_path, decoder)

    assert told in sound.fault and sound.fault.endswith(".")
    assert str(tmp_path) not in sound.fault
    assert (sound.seconds, sound.speech) == (0.0, None)


def test_an_m4a_whose_end_is_missing_says_so(spoken, tmp_path, decoder):
    """A plain m4a says at its end what is in it: cut off, nothing can be heard of it. The bytes stay for later."""
    whole = in_container(spoken, "ipod", "aac")
    sound, _ = samples_of(whole[: len(whole) * 6 // 10], tmp_path, decoder)

    assert "cut off before its end" in sound.fault


def test_a_video_without_a_sound_holds_none(tmp_path, decoder):
    import io

    import av

    out = io.BytesIO()
    with av.open(out, "w", format="mp4") as file:
        stream = file.add_stream("mpeg4", rate=5)
        stream.width, stream.height, stream.pix_fmt = 64, 64, "yuv420p"
        file.mux(stream.encode(av.VideoFrame.from_ndarray(np.zeros((64, 64, 3), np.uint8), format="rgb24")))
        file.mux(stream.encode(None))
    sound, _ = samples_of(out.getvalue(), tmp_path, decoder)

    assert sound.fault == "There is no sound in it."


def test_a_day_left_running_is_listened_to_for_ten_minutes(tmp_path, decoder):
    """Silence packs to almost nothing: an hour and more of it must not become an hour of samples."""
    silence = in_container(np.zeros(RATE * 700), "ogg", "libopus")
    sound, raw = samples_of(silence, tmp_path, decoder)

    assert len(silence) < 1_000_000
    assert decode_worker.MOST_SECONDS <= sound.seconds < decode_worker.MOST_SECONDS + 1
    assert "only the first 10 were" in sound.fault
    assert sound.speech is None


def test_nobody_speaks_in_silence_nor_in_a_steady_hum(tmp_path, decoder):
    t = np.arange(4 * RATE) / RATE
    hum = 3000 * np.sin(2 * np.pi * 100 * t) + 300 * np.random.default_rng(1).standard_normal(len(t))

    assert samples_of(as_wav(np.zeros(3 * RATE)), tmp_path, decoder)[0].speech is None
    assert samples_of(as_wav(hum), tmp_path, decoder)[0].speech is None


def test_a_decoder_that_dies_or_runs_in_circles_does_not_stop_the_next_sound(tmp_path, decoder, monkeypatch):
    assert samples_of(clip(PLAIN), tmp_path, decoder)[0].fault == ""
    with monkeypatch.context() as patched:
        patched.setattr(decode, "SECONDS", 0.3)
        os.kill(decoder.fenced.process.pid, signal.SIGSTOP)
        sound, _ = samples_of(clip(PLAIN), tmp_path, decoder)
        assert "time or memory" in sound.fault
    assert samples_of(clip(PLAIN), tmp_path, decoder)[0].fault == ""
    decoder.fenced.process.kill()
    decoder.fenced.process.wait()
    assert samples_of(clip(PLAIN), tmp_path, decoder)[0].fault == ""


def test_a_sound_that_wants_too_much_memory_is_told_in_a_sentence(spoken, tmp_path, decoder):
    """Eighty million samples announced in one number: 1.9 GB of index, which the fence does not give."""
    data = bytearray(in_container(spoken, "ipod", "aac"))
    at = data.index(b"stsz")  # ISO 14496-12, 8.7.3: version and flags, the size that all samples share, their number
    data[at + 8 : at + 16] = struct.pack(">II", 1, 80_000_000)
    sound, _ = samples_of(bytes(data), tmp_path, decoder)
    peak = re.search(r"VmPeak:\s+(\d+) kB", Path(f"/proc/{decoder.fenced.process.pid}/status").read_text())

    assert sound.fault.endswith(".") and sound.seconds == 0
    assert int(peak[1]) << 10 <= decode_worker.MEMORY
    assert samples_of(clip(PLAIN), tmp_path, decoder)[0].fault == ""


def test_a_decoder_that_has_used_up_its_processor_time_is_ended_by_the_kernel(tmp_path, decoder):
    assert samples_of(clip(PLAIN), tmp_path, decoder)[0].fault == ""
    resource.prlimit(decoder.fenced.process.pid, resource.RLIMIT_CPU, (1, 1))
    sound, _ = samples_of(as_wav(np.ones(120 * RATE)), tmp_path, decoder)

    assert sound.fault == decode.TOO_MUCH
    assert samples_of(clip(PLAIN), tmp_path, decoder)[0].fault == ""


def test_the_limits_hold_in_the_process_that_decodes(tmp_path, decoder):
    decoder.fenced.stop()
    samples_of(clip(PLAIN), tmp_path, decoder)
    pid = decoder.fenced.process.pid

    assert resource.prlimit(pid, resource.RLIMIT_AS)[0] == decode_worker.MEMORY
    assert 0 < resource.prlimit(pid, resource.RLIMIT_CPU)[0] < 10 * decode_worker.CPU_SECONDS
    assert os.getpriority(os.PRIO_PROCESS, pid) >= 10


def test_noise_is_taken_out_in_step_with_the_words(spoken):
    """RNNoise answers two frames late; what comes out lies on what went in, else words would be lit too late."""
    loud = np.repeat(spoken, 3).astype(np.float32)  # 48 kHz, roughly: enough to see where it lies
    noise = np.random.default_rng(3).normal(0, 400, len(loud)).astype(np.float32)
    cleaner = denoise.Denoiser(denoise.library())
    made = np.concatenate(
        [*(cleaner.feed((loud + noise)[at : at + 1000]) for at in range(0, len(loud), 1000)), cleaner.finish()]
    )
    shifts = range(-2400, 2401, 48)
    best = max(shifts, key=lambda shift: float(np.dot(np.roll(loud, shift), made.astype(np.float32))))

    assert len(made) == len(loud)
    assert abs(best) <= 96
    quiet = slice(0, 12_000)
    assert np.std(made[quiet]) < 0.3 * np.std((loud + noise)[quiet])


def test_where_somebody_speaks():
    """In words: 1 s of quiet, 1 s of speech, a pause to read the dial, half a second of speech, quiet."""
    likely = [0.0] * 100 + [0.95] * 100 + [0.05] * 80 + [0.95] * 50 + [0.0] * 200
    assert endpoint.speech(likely, 5300) == pytest.approx((1000 - endpoint.BEFORE_MS, 3300 + endpoint.AFTER_MS), abs=20)
    assert endpoint.speech([0.0] * 500, 5000) is None
    assert endpoint.speech([0.0] * 100 + [1.0] * 4 + [0.0] * 100, 2040) is None
    assert endpoint.speech([], 0) is None
    assert endpoint.speech([1.0] * 100, 1000) == (0, 1000)


def test_the_process_that_decodes_knows_nothing_of_the_server():
    """What decodes hostile files must not even have the database code loaded; nor has the server a decoder."""
    root = Path(decode.__file__).parents[2]

    def loaded(module: str) -> set[str]:
        code = f"import sys, {module}; print(' '.join({{m.split('.')[0] for m in sys.modules}}))"
        process = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"PYTHONPATH": str(root)}
        )
        return set(process.stdout.split())

    for module in ("witnessmark.speech.decode_worker", "witnessmark.speech.hear_worker"):
        assert not loaded(module) & {"sqlalchemy", "flask", "huey"}
    for module in ("witnessmark.tasks.worker", "witnessmark.app", "witnessmark.operate.serve"):
        assert not loaded(module) & {"av", "numpy", "ctranslate2", "faster_whisper", "pocketsphinx", "pyrnnoise"}
