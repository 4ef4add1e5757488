"""The small pictures on page and PDF: drawn from previews, without a word of what the file said."""

from __future__ import annotations

from PIL import Image

from witnessmark.pack.plates import edge_for, plate


def a_preview(path, size=(1600, 1200)):
    exif = Image.Exif()
    exif[0x013B] = "SEED-OWNER"
    Image.new("RGB", size, (90, 90, 160)).save(path, "JPEG", comment="SEED-COMMENT", exif=exif)
    return path


def test_a_plate_is_small_keeps_its_shape_and_says_nothing(tmp_path):
    drawn = plate(a_preview(tmp_path / "a.jpg"), tmp_path / "b.jpg", 640)

    with Image.open(tmp_path / "b.jpg") as small:
        assert small.size == (640, 480)
        assert not small.getexif()
    assert drawn.ratio == 640 / 480
    assert b"SEED" not in drawn.path.read_bytes()


def test_what_is_no_picture_or_a_bomb_has_no_plate(tmp_path):
    (tmp_path / "no.jpg").write_bytes(b"\xff\xd8\xff no picture")

    assert plate(tmp_path / "no.jpg", tmp_path / "b.jpg", 640) is None
    assert plate(a_preview(tmp_path / "big.jpg", (9000, 9000)), tmp_path / "b.jpg", 640) is None
    assert plate(tmp_path / "nowhere.jpg", tmp_path / "b.jpg", 640) is None


def test_so_many_that_their_points_would_fill_the_memory_get_smaller():
    """The typesetter holds every point of every picture: 4 bytes each."""
    assert edge_for(1) == edge_for(300) == 640
    assert all(count * edge_for(count) ** 2 * 0.75 * 4 < 400e6 for count in range(1, 2001, 50))
    assert edge_for(100_000) == 240
