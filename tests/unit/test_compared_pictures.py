"""The comparison of two folders of pictures says how much differs, and which picture most."""

from __future__ import annotations

import pytest
from PIL import Image

from tests.screens.compare import compare

PAPER, INK = (246, 243, 234), (20, 28, 43)


def picture(folder, name, dark_rows=0, size=(40, 20)):
    folder.mkdir(exist_ok=True)
    drawn = Image.new("RGB", size, PAPER)
    drawn.paste(INK, (0, 0, size[0], dark_rows))
    drawn.save(folder / f"{name}.png")


def test_pictures_are_paired_by_name_and_the_worst_comes_first(tmp_path):
    for name, rows in (("jobs_light", 0), ("bench_dark", 5), ("record_light", 10)):
        picture(tmp_path / "before", name)
        picture(tmp_path / "after", name, rows)
    pairs = compare(tmp_path / "before", tmp_path / "after", tmp_path / "beside")
    assert [(pair.name, pair.share) for pair in pairs] == [
        ("record_light", 0.5),
        ("bench_dark", 0.25),
        ("jobs_light", 0.0),
    ]
    assert {path.name for path in (tmp_path / "beside").iterdir()} == {"record_light.png", "bench_dark.png"}


def test_a_picture_that_grew_differs_where_only_one_of_the_two_is(tmp_path):
    picture(tmp_path / "before", "jobs_light", size=(40, 20))
    picture(tmp_path / "after", "jobs_light", size=(40, 25))
    (pair,) = compare(tmp_path / "before", tmp_path / "after", tmp_path / "beside")
    assert pair.share == 0.2


def test_folders_that_have_no_picture_in_common_are_refused(tmp_path):
    picture(tmp_path / "before", "jobs_light")
    picture(tmp_path / "after", "bench_dark")
    with pytest.raises(ValueError, match="no picture"):
        compare(tmp_path / "before", tmp_path / "after", tmp_path / "beside")
