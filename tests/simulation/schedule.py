"""What happens in one run, made from a seed: a list of events that can be written down, shortened and run again.

An event is a list of plain values, its name first. Each stands for itself: with any other taken away it still means
something. `events.py` carries them out; what each is stands there, at the method of its name.
"""

from __future__ import annotations

import random

Event = list
PHONES = ("A", "B", "C")
NEWCOMER = "D"  # who has not joined yet; the others have

# What people do: name -> weight.
WORK = {
    "note": 8, "photo": 7, "same_photo": 2, "document": 2, "job": 2, "answer": 3, "refused_note": 2, "stage": 1,
    "send": 6, "free": 2, "choose": 3, "try_again": 1, "desk_note": 2,
}  # fmt: skip
# What goes wrong, in families. A schedule has some of them: faults that never meet would hide what they do together.
FAULTS = {
    "network": {"lose_request": 3, "lose_answer": 4, "cut_request": 2, "cut_answer": 2, "twice": 3, "stranger": 1},
    "order": {"hold": 3, "late": 4, "deliver_late": 3, "wait": 1},
    "phone": {"kill_phone": 6, "abort": 3, "lost_commit": 3},
    "phone_disk": {"phone_full": 2, "phone_room": 2},
    "server": {"kill_server": 6, "server_error": 3},
    "server_disk": {"server_full": 2, "server_room": 2, "sweep": 1},
    "clocks": {"phone_clock": 2, "server_clock": 2, "wait": 2},
    "backup": {"back_up": 4, "restore": 3, "free": 2},
    "backups": {"back_up": 4, "restore_older": 2, "free": 2},
    "copy": {"keep_database": 3, "restore_copy": 2},
    "people": {"block": 2, "replace": 2, "rejoin": 3},
    "replay": {"rebuild": 1},
}  # fmt: skip
SHORTEST, LONGEST = 10, 26


def make(seed: int, shortest: int = SHORTEST, longest: int = LONGEST) -> list[Event]:
    """The schedule of a seed, of so many events."""
    rng = random.Random(seed)
    phones = PHONES[: rng.choices((1, 2, 3), (5, 8, 1))[0]]
    families = [name for name in FAULTS if rng.random() < 0.4]
    faults: dict[str, int] = {}
    for family in families:
        for name, weight in FAULTS[family].items():
            faults[name] = faults.get(name, 0) + weight
    events: list[Event] = []
    if rng.random() < 0.15:
        events.append(["join", NEWCOMER])
        phones += (NEWCOMER,)
    for _ in range(rng.randint(shortest, longest)):
        sort = rng.choices(("work", "serve", "fault"), (10, 6, 7 if faults else 0))[0]
        if sort == "serve":
            events.append(["serve", rng.choice((1, 2, 3, 4, 6, 9, 100))])
            continue
        table = WORK if sort == "work" else faults
        name = rng.choices(list(table), list(table.values()))[0]
        events.append([name, *_details(rng, name, rng.choice(phones))])
    return events


def _details(rng: random.Random, name: str, phone: str) -> list:
    steps = min(int(rng.expovariate(1 / 25)), 160)
    soon = rng.choice((0, 0, 0, 1, 1, 2, 3, 5))
    share = round(rng.random(), 2)
    details = {
        "note": [phone, rng.randrange(4)],
        "photo": [phone, rng.randrange(4), rng.choice((0x40, 500, 601, 1200, 2500)), rng.random() < 0.5],
        "same_photo": [phone, rng.randrange(4)],
        "document": [phone, rng.randrange(4), rng.choice((1, 700))],
        "answer": [phone, rng.randrange(6), rng.choice(("correct", "withdraw"))],
        "refused_note": [phone, rng.randrange(4)],
        "stage": [phone, rng.randrange(4), rng.choice(("strip", "measuring"))],
        "choose": [phone, rng.randrange(4)],
        "desk_note": [rng.randrange(4)],
        "lose_request": [soon], "lose_answer": [soon], "twice": [soon], "stranger": [soon],
        "hold": [soon], "late": [soon],
        "cut_request": [soon, share], "cut_answer": [soon, share],
        "deliver_late": [rng.randint(1, 4)],
        "wait": [rng.choice((35, 400, 4000))],
        "kill_phone": [phone, steps], "abort": [phone, steps], "lost_commit": [phone, steps // 2],
        "kill_server": [steps], "server_error": [steps],
        "phone_clock": [phone, rng.choice((-86400, -3600, -5, 5, 3600, 86400 * 400))],
        "server_clock": [rng.choice((-86400, -60, 60, 3600, 86400))],
        "back_up": [], "restore": [], "restore_older": [], "keep_database": [], "restore_copy": [],
        "server_full": [], "server_room": [], "sweep": [], "rebuild": [],
    }  # fmt: skip
    return details.get(name, [phone])
