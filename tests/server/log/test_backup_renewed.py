"""A backup that is renewed in its folder counts at every moment."""

from __future__ import annotations

import contextlib
import os
import shutil

from tests.support.media import Sender, jpeg
from tests.support.record import photograph, send
from witnessmark.config import Settings
from witnessmark.operate import backup
from witnessmark.operate.restore import restore


def test_a_backup_is_there_at_every_moment_of_its_renewal(office, phone, tmp_path, monkeypatch):
    """Power may go between any two changes to the folder: what can be put back is the backup before or after it."""
    sender, job = Sender(office.app, phone.token), phone.open_job()
    for width in (300, 301):
        photograph(phone, job, "bore/3", jpeg(width, 200))
    send(phone)
    sender.send(jpeg(300, 200))
    before = backup.make(office.settings, tmp_path / "first").log_size
    phone.note(job)
    send(phone)
    sender.send(jpeg(301, 200))
    sizes, left = [], 0

    def limited(change):
        def call(*given, **named):
            nonlocal left
            left -= 1
            if left < 0:
                raise KeyboardInterrupt
            return change(*given, **named)

        return call

    replace, unlink = os.replace, os.unlink
    for number in range(100):
        shutil.copytree(tmp_path / "first", folder := tmp_path / f"backup-{number}")
        left = number
        with monkeypatch.context() as patch, contextlib.suppress(KeyboardInterrupt):
            patch.setattr(os, "replace", limited(replace))
            patch.setattr(os, "unlink", limited(unlink))
            backup.make(office.settings, folder)
        back = restore(folder, Settings(tmp_path / f"new-{number}"))
        assert (back.faults, back.damaged) == ([], [])
        sizes.append(back.log_size)
        if left >= 0:
            break
    assert sizes[0] == before and sizes[-1] == before + 1 and sizes == sorted(sizes) and len(sizes) > 5
