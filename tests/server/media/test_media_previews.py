"""Small pictures of the originals: right way up, without a word of metadata, whatever the file tries to do."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from threading import Event, Thread

import pytest
from PIL import Image, ImageOps

from tests.support.media import Sender, jpeg, look, mpo_with_trailer, noise, png_bomb
from witnessmark.db import writing
from witnessmark.media import previews, store
from witnessmark.media.facts import exif_time
from witnessmark.media.sniff import sniff
from witnessmark.tasks import queue, worker


def adopt(office, data: bytes) -> str:
    with writing(office.engine) as conn:
        return store.adopt(office.settings, conn, data)[0]


def drawn(office, sha256: str, edge: int) -> Image.Image:
    preview = previews.own(office.settings, sha256, edge)
    assert preview is not None
    return Image.open(io.BytesIO(preview.read_bytes()))


def exif_of(camera: str = "demo camera", orientation: int = 1, offset: str = "+01:00") -> bytes:
    exif = Image.Exif()
    exif[0x0112], exif[0x010F], exif[0x0110] = orientation, "Invented", camera
    detail = exif.get_ifd(0x8769)
    detail[0x9003], detail[0x9291] = "2026:05:14 10:38:07", "12"
    if offset:
        detail[0x9011] = offset
    exif.get_ifd(0x8825)[1] = "N"
    return exif.tobytes()


def test_a_picture_is_drawn_in_two_sizes_and_its_facts_are_kept(office):
    taken = adopt(office, jpeg(2400, 1800, exif=exif_of()))
    facts = look(office.settings, office.engine, taken)

    assert drawn(office, taken, 1600).size == (1600, 1200)
    assert drawn(office, taken, 320).size == (320, 240)
    assert (facts["width"], facts["height"], facts["type"]) == (2400, 1800, "image/jpeg")
    assert facts["taken"] == "2026-05-14T10:38:07.120+01:00"
    assert (facts["make"], facts["model"]) == ("Invented", "demo camera")
    assert "fault" not in facts


def test_a_small_picture_is_never_blown_up(office):
    taken = adopt(office, jpeg(200, 100))
    look(office.settings, office.engine, taken)

    assert drawn(office, taken, 1600).size == (200, 100)


def test_a_time_without_a_zone_stays_without_one(office):
    assert exif_time("2026:05:14 10:38:07") == "2026-05-14T10:38:07"
    assert exif_time("2026:05:14 10:38:07", "5", "-03:30") == "2026-05-14T10:38:07.500-03:30"
    assert exif_time("0000:00:00 00:00:00") is None
    assert exif_time("yesterday") is None
    assert exif_time(b"2026:05:14 10:38:07\x00") == "2026-05-14T10:38:07"


@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_picture_is_drawn_the_way_the_camera_was_held_and_the_original_stays_as_it_was(office, orientation):
    """Asked of Pillow's own exif_transpose on the full picture: corner by corner."""
    data = jpeg(640, 480, exif=exif_of(orientation=orientation), quality=95)
    taken = adopt(office, data)
    facts = look(office.settings, office.engine, taken)
    right = ImageOps.exif_transpose(Image.open(io.BytesIO(data)))
    seen = drawn(office, taken, 320)

    assert (facts["width"], facts["height"]) == right.size
    assert (seen.width > seen.height) == (right.width > right.height)
    for x, y in ((0.1, 0.1), (0.9, 0.1), (0.1, 0.9), (0.9, 0.9)):
        wanted = right.getpixel((int(x * right.width), int(y * right.height)))
        got = seen.getpixel((int(x * seen.width), int(y * seen.height)))
        assert all(abs(a - b) < 24 for a, b in zip(wanted, got, strict=True))
    assert store.path_of(office.settings, taken).read_bytes() == data


def test_nothing_the_camera_wrote_beside_the_picture_is_in_the_previews(office):
    data = jpeg(800, 600, exif=exif_of(camera="SERIAL-4711"), comment=b"key under the mat", xmp=b"<x>SERIAL-4711</x>")
    taken = adopt(office, data)
    look(office.settings, office.engine, taken)

    assert b"SERIAL-4711" in data and b"key under the mat" in data
    for edge in previews.EDGES:
        answer = previews.own(office.settings, taken, edge).read_bytes()
        assert b"SERIAL-4711" not in answer and b"key under" not in answer and b"Exif" not in answer


def test_a_phones_double_picture_is_taken_as_it_is_and_what_hides_in_it_is_said(office):
    data = mpo_with_trailer()
    taken = adopt(office, data)
    facts = look(office.settings, office.engine, taken)

    assert (facts["width"], facts["height"], facts["pictures"]) == (640, 480, 2)
    assert facts["trailer"]["video"] is True
    assert drawn(office, taken, 320).size == (320, 240)
    assert store.path_of(office.settings, taken).read_bytes() == data


def test_a_plain_picture_hides_nothing(office):
    facts = look(office.settings, office.engine, adopt(office, jpeg(progressive=True)))

    assert "trailer" not in facts and "pictures" not in facts


@pytest.mark.parametrize(
    "what, data",
    [
        ("cut off at a third", lambda: jpeg(1200, 900, quality=95)[:9_000]),
        ("a head and nothing else", lambda: b"\xff\xd8\xff\xe0"),
        ("a PNG of noise", lambda: b"\x89PNG\r\n\x1a\n" + noise(2_000)),
        ("a phone's other format", lambda: b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + noise(2_000)),
        ("a bomb", png_bomb),
    ],
)
def test_what_cannot_be_drawn_is_kept_and_the_reason_is_said(office, what, data):
    data = data()
    taken = adopt(office, data)
    facts = look(office.settings, office.engine, taken)

    assert facts["fault"].endswith(".")
    assert previews.own(office.settings, taken, 320) is None
    assert store.path_of(office.settings, taken).read_bytes() == data


def test_a_bomb_is_not_unfolded(office):
    """Told from its header alone: 169 million points of it would not fit into the fence."""
    facts = look(office.settings, office.engine, adopt(office, png_bomb()))

    assert "100 million pixels" in facts["fault"]
    assert "memory" not in facts["fault"]


def test_a_picture_that_kills_the_process_does_not_stop_the_next_one(office, monkeypatch):
    killer, good = adopt(office, jpeg(300, 200)), adopt(office, jpeg(310, 200))
    bench = previews.Bench()
    try:
        assert previews.make(office.settings, office.engine, bench, adopt(office, jpeg(320, 200))) is None
        bench._process.kill()
        bench._process.wait()
        # The dead process is noticed before the wish is written, or after: either way the picture is not lost.
        assert previews.make(office.settings, office.engine, bench, killer) is None
        with monkeypatch.context() as patched:
            patched.setattr(previews, "SECONDS", 0.2)
            os.kill(bench._process.pid, signal.SIGSTOP)  # as if a decoder ran in circles
            assert "time" in previews.make(office.settings, office.engine, bench, killer)
        assert previews.make(office.settings, office.engine, bench, good) is None
    finally:
        bench.close()


def test_a_picture_that_wants_too_much_memory_is_refused_by_the_fence(office):
    """9,900 x 9,900 points in four colours are under the limit of points, but not under the limit of memory."""
    out = io.BytesIO()
    Image.new("RGBA", (9_900, 9_900), (1, 2, 3, 200)).save(out, "PNG", compress_level=1)
    facts = look(office.settings, office.engine, adopt(office, out.getvalue()))

    assert "memory" in facts["fault"]


def test_the_worker_draws_what_arrives_and_what_a_crash_left_undone(office, phone):
    forgotten = adopt(office, jpeg(500, 400))
    stop = Event()
    thread = Thread(target=worker.run, args=(office.settings, stop))
    thread.start()
    try:
        arrived = Sender(office.app, phone.token).send(jpeg(510, 400))
        until = time.monotonic() + 20
        while previews.waiting(office.engine) and time.monotonic() < until:
            time.sleep(0.02)
    finally:
        stop.set()
        thread.join()
    assert previews.waiting(office.engine) == []
    for sha256 in (forgotten, arrived):
        assert previews.own(office.settings, sha256, 1600)


def test_work_asked_for_twice_is_done_once(office):
    taken = adopt(office, jpeg())
    tools = worker.Tools(office.settings, office.engine)
    try:
        worker.look_at_picture(tools, taken)
        before = previews.own(office.settings, taken, 320).stat().st_mtime_ns
        worker.look_at_picture(tools, taken)
        assert previews.own(office.settings, taken, 320).stat().st_mtime_ns == before
    finally:
        tools.bench.close()


def test_a_torn_queue_costs_nobody_a_picture(office, phone):
    """The queue is not forced to the disk, so a power cut may tear it; the pictures are safe, and are drawn."""
    office.settings.tasks.write_bytes(b"torn" * 4000)
    arrived = Sender(office.app, phone.token).send(jpeg(520, 400))
    stop = Event()
    thread = Thread(target=worker.run, args=(office.settings, stop))
    thread.start()
    try:
        until = time.monotonic() + 20
        while previews.waiting(office.engine) and time.monotonic() < until:
            time.sleep(0.02)
    finally:
        stop.set()
        thread.join()
    assert previews.own(office.settings, arrived, 1600)


def test_a_queue_in_order_is_left_alone(office):
    queue.put(office.settings, "picture", "0" * 64)
    assert queue.mend(office.settings) is False
    assert queue.waiting(office.settings) == 1


def test_stopping_the_server_by_hand_spoils_no_picture(office):
    """Ctrl-C goes to every process of the terminal's group."""
    bench = previews.Bench()
    try:
        assert previews.make(office.settings, office.engine, bench, adopt(office, jpeg())) is None
        assert os.getpgid(bench._process.pid) != os.getpgid(0)
    finally:
        bench.close()


def test_an_empty_queue_with_forgotten_pictures_fills_itself(office):
    adopt(office, jpeg())
    tools = worker.Tools(office.settings, office.engine)

    assert worker.find_forgotten(tools) == 1
    assert queue.waiting(office.settings) == 1
    assert worker.find_forgotten(tools) == 0


@pytest.mark.parametrize(
    "head, kind",
    [
        (b"\xff\xd8\xff\xe1", "image/jpeg"),
        (b"\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00mif1heic", "image/heic"),
        (b"\x00\x00\x00\x1cftypavif\x00\x00\x00\x00mif1avif", "image/avif"),
        (b"\x00\x00\x00\x18ftypM4A \x00\x00\x00\x00M4A mp42", "audio/mp4"),
        (b"\x00\x00\x00\x18ftypisom\x00\x00\x00\x00isommp41", "video/mp4"),
        (b"\x1aE\xdf\xa3\x9fB\x86\x81\x01B\xf7\x81\x01B\xf2\x81\x04B\xf3\x81\x08B\x82\x84webm", "audio/webm"),
        (b"OggS\x00\x02", "audio/ogg"),
        (b"RIFF\x24\x00\x00\x00WAVEfmt ", "audio/wav"),
        (b"RIFF\x24\x00\x00\x00WEBPVP8 ", "image/webp"),
        (b"II*\x00", "image/tiff"),
        (b"%PDF-1.7", "application/pdf"),
        (b"<svg xmlns=", "application/octet-stream"),
        (b"<!doctype html>", "application/octet-stream"),
        (b"", "application/octet-stream"),
        (b"RIFF", "application/octet-stream"),
        (b"\xff\xff\xff\xffftyp", "application/octet-stream"),
    ],
)
def test_a_file_is_what_its_first_bytes_say(head, kind):
    assert sniff(head) == kind


def test_the_fenced_in_process_knows_nothing_of_the_server():
    """What decodes hostile files must not even have the database code loaded."""
    root = Path(previews.__file__).parents[2]
    code = "import sys, witnessmark.media.picture_worker; print(sorted({m.split('.')[0] for m in sys.modules}))"
    process = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env={"PYTHONPATH": str(root)}
    )
    assert "PIL" in process.stdout
    assert "sqlalchemy" not in process.stdout and "flask" not in process.stdout
