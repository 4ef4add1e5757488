"""How long a client may take and how much of the server it may hold; each number once, with its reason."""

from __future__ import annotations

from dataclasses import dataclass

KIB = 1024


@dataclass(frozen=True)
class Limits:
    """Limits of one listening process. Spans are seconds, sizes bytes."""

    # Connections at once; one that waits costs some kilobytes and no thread. Further ones wait in the kernel's line.
    connections: int = 1000
    # For a request's head to be whole, and how long a connection may lie idle between two requests.
    head_seconds: float = 15
    # Every body has to bring `body_least` bytes (or its end) in each `body_window`: 1 kB/s, what no network in use
    # falls below. An upload that does may go on for as long as it likes.
    body_window: float = 20
    body_least: int = 20 * KIB
    # Any other body in whole: a full push of 16 MiB at half a megabit a second.
    body_seconds: float = 300
    # For each piece of an answer of up to `piece` bytes to be taken, out of the front and out of the kernel: 4 kB/s.
    send_seconds: float = 60
    # Requests worked on at once. Python does one thing at a time; more would only share it out.
    threads: int = 8
    # Uploads that hold a thread while their bytes come, beside those; more of them wait in line without one.
    uploads: int = 8
    # Bodies too large for memory that are read at once, and how long the next may wait before it is sent away.
    bodies: int = 16
    line_seconds: float = 60
    # A body up to here is read before the program sees the request: no form of the office is larger.
    small_body: int = 16 * KIB
    # Beyond it a body lies in a file without a name. Most pushes stay below.
    memory_body: int = KIB * KIB
    piece: int = 256 * KIB
    # The kernel asks a silent client for a sign of life, and drops one that has acknowledged nothing for so long:
    # a phone that left the network.
    alive_after: int = 30
    unacknowledged: int = 60


SHIPPED = Limits()
