"""One process at a time: test workers share the checkout, its built app and the machine's packages."""

from __future__ import annotations

import fcntl
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def one_at_a_time(work: str) -> Iterator[None]:
    """Waits while another process of this checkout is inside the same `work`."""
    mark = sha256(str(ROOT).encode()).hexdigest()[:12]
    with (Path(tempfile.gettempdir()) / f"witnessmark-tests-{mark}-{work}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield
