"""The small pictures of a pack are the server's own, and no picture's fault is the pack's."""

from __future__ import annotations

import io
import json

import pytest
from PIL import Image

from tests.support import record
from tests.support.media import Sender, jpeg, look, sha
from tests.support.packs import files_of
from witnessmark.db import reading
from witnessmark.media import previews
from witnessmark.pack import redact
from witnessmark.pack.build import build
from witnessmark.proof import layout, pictures
from witnessmark.proof.verify import verify


def header_bomb(width: int = 65_000) -> bytes:
    """A small JPEG whose header announces a picture of thousands of millions of points (ITU-T T.81, B.2.2)."""
    data = jpeg(64, 48)
    at = next(part.start for part in pictures.parts(data) if part.name == 0xC0)
    size = width.to_bytes(2, "big")
    return data[: at + 5] + size + size + data[at + 9 :]


def red_and(colour: str, picture: Image.Image) -> bool:
    """Whether a picture shows what `jpeg` draws: a quarter in red, the rest in this colour."""
    small = picture.convert("RGB").resize((2, 2))
    pair = Image.new("RGB", (1, 1), colour).getpixel((0, 0)), (255, 0, 0)
    seen = small.getpixel((1, 1)), small.getpixel((0, 0))
    return all(abs(a - b) < 60 for one, two in zip(seen, pair, strict=True) for a, b in zip(one, two, strict=True))


def test_previews_are_the_servers_own_and_a_picture_that_cannot_be_drawn_fails_no_pack(office, phone, tmp_path):
    sender = Sender(office.app, phone.token)
    job = phone.open_job("24-118")
    absent, bomb, plain, spoilt = jpeg(900, 700), header_bomb(), jpeg(910, 700, "olive"), jpeg(920, 700, "navy")
    for data in (absent, bomb, plain, spoilt):
        record.photograph(phone, job, "bore/3", data)
    record.send(phone)
    false = jpeg(320, 256, "khaki")
    assert sender.ask("PUT", f"/api/media/{sha(absent)}/preview", false).get_json() == {"kept": True}
    for data in (bomb, plain, spoilt):
        sender.send(data)
    for data in (plain, spoilt):
        look(office.settings, office.engine, sha(data))
    # Spoilt on the server's disk, and what a phone may have sent before there was any rule for it.
    for edge in previews.EDGES:
        previews.own(office.settings, sha(spoilt), edge).write_bytes(header_bomb())
    (office.settings.previews / sha(bomb)[:2]).mkdir(exist_ok=True)
    (office.settings.previews / sha(bomb)[:2] / f"{sha(bomb)}.phone.jpg").write_bytes(header_bomb())

    with reading(office.engine) as conn:
        built = build(conn, office.settings, job, "sealed", tmp_path)
    files = files_of(built.path)
    shown = {
        path.removeprefix(layout.PREVIEWS): data for path, data in files.items() if path.startswith(layout.PREVIEWS)
    }
    page = files[layout.PAGE].decode()

    assert verify(built.path).faults == []
    assert set(shown) == {f"{sha(plain)}.jpg", f"{sha(spoilt)}.jpg"}
    assert red_and("olive", Image.open(io.BytesIO(shown[f"{sha(plain)}.jpg"])))
    assert red_and("navy", Image.open(io.BytesIO(shown[f"{sha(spoilt)}.jpg"])))
    [of_bomb] = [part for part in page.split("<script")[0].split('<article class="record') if sha(bomb) in part]
    assert '<p class="missing">No preview could be made. It has more than 100 million pixels.</p>' in of_bomb
    assert page.count("No preview could be made.") == 1
    assert f'href="originals/{sha(bomb)}.jpg"' in of_bomb
    accounts = {line["sha256"]: line for line in map(json.loads, files[layout.MEDIA].splitlines())}
    assert accounts[sha(bomb)]["path"] and "had not arrived" in accounts[sha(absent)]["left_out"]


@pytest.mark.parametrize("raised", [MemoryError, RecursionError, KeyError("x"), OverflowError])
def test_whatever_reading_a_file_raises_is_that_files_fault_alone(monkeypatch, raised):
    def fails(*_args):
        raise raised

    monkeypatch.setattr(pictures, "parts", fails)
    with pytest.raises(redact.CannotClean):
        redact.clean(jpeg())
