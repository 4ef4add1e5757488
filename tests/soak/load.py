"""Who works with the server meanwhile: phones that record, push, pull and send pictures and sounds, and the office."""

from __future__ import annotations

import hashlib
import io
import random
import threading
import traceback
import wave
from base64 import b64encode
from collections import Counter
from collections.abc import Callable

import requests
from PIL import Image

from tests.support import record
from tests.support.phone import Phone

TIMEOUT = 60
PIECE = {"Content-Type": "application/offset+octet-stream"}
A_JOB = 60  # rounds of a phone, then it opens another job
PAUSE = 5.0  # seconds of a phone between two rounds, on average
READ_PAUSE = 10.0  # of the office
PACK_EVERY = 8  # rounds of the office
SOUND_EVERY = 30  # rounds of a phone


class Load:
    """Ten phones and the office at one address, each in its own thread, until `stop`."""

    def __init__(self, url: str, office_url: str, authority: str, invite: Callable[[], str], phones: int = 10) -> None:
        self.url, self.office_url, self.authority, self.invite = url, office_url, authority, invite
        self.counts: Counter[str] = Counter()
        self.faults: list[str] = []
        self.jobs: list[str] = []
        self._over = threading.Event()
        self._threads = [threading.Thread(target=self._run, args=(self._phone, number)) for number in range(phones)]
        self._threads.append(threading.Thread(target=self._run, args=(self._office, phones)))

    def start(self) -> None:
        for thread in self._threads:
            thread.start()

    def stop(self) -> None:
        self._over.set()
        for thread in self._threads:
            thread.join()

    @property
    def errors(self) -> int:
        return sum(count for name, count in self.counts.items() if name.startswith("error"))

    def _run(self, work: Callable[[random.Random, Callable], None], number: int) -> None:
        """Works to the end; what goes wrong is counted and the work begun again."""
        chance = random.Random(number)
        while not self._over.is_set():
            with requests.Session() as session:
                session.verify, session.trust_env = self.authority, False
                try:
                    work(chance, self._asker(session))
                except Exception:
                    self.counts["error: raised"] += 1
                    self.faults.append(traceback.format_exc(limit=-3))
                    self._over.wait(5)

    def _asker(self, session: requests.Session) -> Callable[..., requests.Response]:
        def ask(method: str, url: str, **more) -> requests.Response:
            answer = session.request(method, url, timeout=TIMEOUT, **more)
            self.counts["requests"] += 1
            if answer.status_code >= 400:
                self.counts[f"error: {answer.status_code}"] += 1
                self.faults.append(f"{method} {url}: {answer.status_code} {answer.text[:200]}")
            return answer

        return ask

    def _phone(self, chance: random.Random, ask: Callable[..., requests.Response]) -> None:
        def speak(method: str, path: str, body: dict | None, headers: dict) -> tuple[int, dict, dict]:
            answer = ask(method, self.url + path, json=body, headers=headers)
            return answer.status_code, answer.json() if answer.content else {}, dict(answer.headers)

        phone = Phone(speak)
        status, answer = phone.join(self.invite(), f"Soak {chance.randrange(10**6)}")
        assert status == 201, answer
        pulled, rounds, job = 0, 0, ""
        while not self._over.is_set():
            if rounds % A_JOB == 0:
                job = phone.open_job(f"S-{chance.randrange(10**6)}", record.ENGINE_TYPE_ID)
                self.jobs.append(job)
            rounds += 1
            self._record(phone, job, chance, ask, with_sound=rounds % SOUND_EVERY == 5)
            record.send(phone)
            _, page = phone.get(f"/api/sync/pull?feed=job:{job}&after={pulled if rounds % A_JOB > 1 else 0}&limit=50")
            pulled = page["next"]
            phone.get("/api/sync/state")
            self._over.wait(chance.uniform(0.5, 1.5) * PAUSE)

    def _record(self, phone: Phone, job: str, chance: random.Random, ask, with_sound: bool) -> None:
        record.measure(phone, job, f"bore/{chance.randint(1, 6)}", f"89.{chance.randint(0, 99):02}")
        phone.note(job, f"Main {chance.randint(1, 4)} blued, {chance.randint(1, 30)} scores.")
        data = a_picture(chance)
        record.photograph(phone, job, f"main/{chance.randint(1, 4)}", data)
        self._send(phone, data, ask)
        if with_sound:
            data = a_noise(chance)
            named = {"sha256": hashlib.sha256(data).hexdigest(), "length": len(data), "name": "note.wav"}
            body = {"method": "live", "duration_ms": 1000, "interrupted": False, "caption": ""}
            body |= {"mode": "note", "screen": "none", "procedure": "", "reading": ""}
            media = [named | {"role": "audio", "type": "audio/wav"}]
            record.keep(phone, phone.entry("sound_recorded", job, location=record.at("rod/3"), body=body, media=media))
            self._send(phone, data, ask)

    def _send(self, phone: Phone, data: bytes, ask) -> None:
        """An original by tus, in two pieces."""
        sha256 = hashlib.sha256(data).hexdigest()
        headers = {"Authorization": f"Bearer {phone.token}", "Tus-Resumable": "1.0.0"}
        begin = {"Upload-Length": str(len(data)), "Upload-Metadata": f"sha256 {b64encode(sha256.encode()).decode()}"}
        place = ask("POST", f"{self.url}/api/media/uploads", headers=headers | begin).headers["Location"]
        for start, end in ((0, len(data) // 2), (len(data) // 2, len(data))):
            piece = headers | PIECE | {"Upload-Offset": str(start)}
            ask("PATCH", self.url + place, data=data[start:end], headers=piece)
        self.counts["originals"] += 1

    def _office(self, chance: random.Random, ask) -> None:
        """Signs in, reads what the pages of the office read, has a pack made now and then, signs out again."""
        rounds = 0
        while not self._over.is_set():
            rounds += 1
            headers = {"X-Witnessmark": "office"}
            person = {"name": self.manager, "password": self.password}
            answer = ask("POST", f"{self.office_url}/api/office/sign-in", json=person, headers=headers)
            # A cookie marked secure is not sent over plain http on this machine by every client.
            headers["Cookie"] = answer.headers["Set-Cookie"].partition(";")[0]
            job = chance.choice(self.jobs) if self.jobs else ""
            paths = [
                "office/me",
                "jobs",
                "people",
                "phones",
                "gauges",
                "spoken",
                "spoken/tally",
                "search?q=scores",
                "live",
            ]
            if job and ask("GET", f"{self.office_url}/api/search?q=main&limit=5", headers=headers).json()["items"]:
                paths += [
                    f"jobs/{job}{page}" for page in ("", "/timeline?limit=50", "/figures", "/tightening", "/packs")
                ]
            for path in paths:
                ask("GET", f"{self.office_url}/api/{path}", headers=headers)
            if job and rounds % PACK_EVERY == 0:
                sort = {"sort": chance.choice(("sealed", "customer"))}
                ask("POST", f"{self.office_url}/api/jobs/{job}/packs", json=sort, headers=headers)
                self.counts["packs"] += 1
            ask("POST", f"{self.office_url}/api/office/sign-out", headers=headers)
            self._over.wait(chance.uniform(0.5, 1.5) * READ_PAUSE)

    manager = password = ""


def a_picture(chance: random.Random) -> bytes:
    """A small photograph that there was not before."""
    picture = Image.linear_gradient("L").resize((640, 480)).convert("RGB")
    picture.paste(tuple(chance.randrange(256) for _ in range(3)), (40, 40, 200, 300))
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=85, comment=chance.randbytes(16).hex())
    return file.getvalue()


def a_noise(chance: random.Random) -> bytes:
    """A second of noise as WAV."""
    file = io.BytesIO()
    with wave.open(file, "wb") as sound:
        sound.setparams((1, 2, 16000, 0, "NONE", ""))
        sound.writeframes(chance.randbytes(32_000))
    return file.getvalue()
