"""What a pack says of its checks is what the verifier does, in the same order and words."""

from __future__ import annotations

import re

from witnessmark.pack.words import STEPS
from witnessmark.proof import verify


def test_the_steps_in_read_me_first_are_those_of_the_verifier():
    answer = re.findall(r"^ ?\((\d+)\) (.+)$", verify.__doc__, re.M)

    assert answer == [(str(number), step) for number, step in enumerate(STEPS, 1)]
