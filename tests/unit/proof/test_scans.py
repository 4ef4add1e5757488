"""The scan hash is one for phone and verifier: the same small pictures are tried by both."""

from __future__ import annotations

import base64
import json
from pathlib import Path

import pytest

from witnessmark.proof import pictures

PICTURES = json.loads((Path(__file__).parents[2] / "vectors" / "scans.json").read_text())["pictures"]


def test_every_picture_has_the_scan_hash_that_the_phone_gives_it():
    for picture in PICTURES:
        data = base64.b64decode(picture["base64"])
        if picture["scan"] is None:
            with pytest.raises(ValueError, match="."):
                pictures.scan_hash(data)
        else:
            assert pictures.scan_hash(data) == picture["scan"], picture["name"]


def test_what_is_not_the_picture_does_not_change_its_scan_hash():
    by_name = {picture["name"]: picture["scan"] for picture in PICTURES}
    assert by_name["a PNG"] == by_name["a PNG with words beside the same pixels"]
    assert by_name["a baseline JPEG"] == by_name["a JPEG with words behind its end"]
    assert len({picture["scan"] for picture in PICTURES if picture["scan"]}) == 7
