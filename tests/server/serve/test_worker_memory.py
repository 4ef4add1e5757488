"""The worker lives for months: what it holds in memory does not grow with what it has done."""

from __future__ import annotations

from tests.support import record
from tests.support.media import Sender, jpeg
from tests.support.worker_memory import working

# What a typesetter inside the worker would keep of these packs alone is 13 MB; what is measured varies by 2.
MOST_GROWTH_MB = 6


def test_packs_and_previews_leave_nothing_behind_in_the_worker(office, phone):
    """The full run, with recordings and twenty packs of many pictures, is `python -m tests.bench worker`."""
    job = phone.open_job()
    record.photograph(phone, job, "bore/3", jpeg())
    record.send(phone)
    Sender(office.app, phone.token).send(jpeg())
    with working(office.settings, office.engine, office.workshop.id, office.manager.id) as worker:
        worker.pack(job)
        worker.pictures([jpeg(500, 400)])
        warm = worker.megabytes()
        for _ in range(3):
            worker.pack(job)
        worker.pictures([jpeg(500 + number, 401) for number in range(10)])
        grown = worker.megabytes() - warm

    assert grown < MOST_GROWTH_MB, f"{warm:.0f} MB before, {grown:.1f} MB more after"
