"""A small job beside another one, and packs cut of it as it goes on."""

from __future__ import annotations

from pathlib import Path

from tests.support.record import send
from tests.support.workshop import Office
from witnessmark.db import reading, writing
from witnessmark.log import read
from witnessmark.log.rows import Row
from witnessmark.pack.build import Built, build
from witnessmark.sync import desk


class Bench:
    """A job with two notes, another job beside it, and the packs cut of the first."""

    def __init__(self, office: Office, folder: Path) -> None:
        self.office, self.folder = office, folder
        self.phone = office.phone("bay 1")
        self.job, self.other = self.phone.open_job("26-301"), self.phone.open_job("26-302")
        self.note("First look: sump full of water.")
        self.note("Main bearing 3 wiped.")

    def note(self, text: str, job: str = "") -> None:
        self.phone.note(job or self.job, text)
        send(self.phone)

    def cut(self, name: str) -> Built:
        folder = self.folder / name
        folder.mkdir()
        with reading(self.office.engine) as conn:
            return build(conn, self.office.settings, self.job, "sealed", folder)

    def issue(self, built: Built) -> None:
        body = {
            "sort": "sealed", "pack_sha256": built.tag_manifest, "head_size": built.head_size, "entries": built.entries,
        }  # fmt: skip
        with writing(self.office.engine) as conn:
            desk.write(conn, self.office.settings, self.office.manager.id, "pack_issued", job=self.job, body=body)

    def rows(self) -> list[Row]:
        with reading(self.office.engine) as conn:
            return list(read.whole_log(conn, self.office.workshop.id))
