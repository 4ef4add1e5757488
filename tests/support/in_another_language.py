"""Run with a copy of the server's package that has one language more: what it answers, and a pack it makes.

`python -m tests.support.in_another_language DATA OUT` prints JSON: {"answers": [text, ...], "page": html,
"verifier": text}. DATA: a demo's folder. What a process says at import is said in its one language, hence this process.
"""

from __future__ import annotations

import json
import subprocess
import sys
import uuid
from collections.abc import Iterator
from pathlib import Path

from witnessmark.app import create_app
from witnessmark.config import Settings
from witnessmark.db import db, reading
from witnessmark.pack.build import build

BAD_GAUGE = {"id": "x", "name": "", "sort": "bore_gauge", "unit": "mm", "low": "a lot", "high": "1", "resolution": "0"}


def messages(answer: object) -> Iterator[str]:
    """Every text in an answer that is written for a person."""
    if isinstance(answer, dict):
        for name, value in answer.items():
            if name == "message":
                yield value
            else:
                yield from messages(value)
    elif isinstance(answer, list):
        for value in answer:
            yield from messages(value)


def answers(client) -> Iterator[str]:
    def posted(path: str, body: object) -> Iterator[str]:
        yield from messages(client.post(path, json=body).get_json())

    yield from messages(client.get("/api/jobs").get_json())
    yield from posted("/api/office/sign-in", {"name": "Tomas", "password": "wrong"})
    yield from posted("/api/sync/join", {"protocol": 1, "code": "AAAA-AAAA", "name": "x", "public_key": "x"})
    yield from posted("/api/office/sign-in", {"name": "Tomas", "password": "witness-demo"})
    yield from messages(client.get("/api/nowhere").get_json())
    yield from messages(client.get(f"/api/jobs/{uuid.uuid4()}").get_json())
    yield from posted("/api/gauges", {"gauge": BAD_GAUGE})
    yield from posted("/api/engine-types", {"engine_type": {"id": "x", "name": "", "layout": "round", "cylinders": 0}})
    for body in ({}, {"id": "x", "job": None, "kind": "measured", "location": None, "body": {}, "media": []}):
        yield from posted("/api/desk/entries", body)


def main(data: Path, out: Path) -> None:
    settings = Settings(data, demo=True)
    app = create_app(settings)
    client = app.test_client()
    client.environ_base["HTTP_X_WITNESSMARK"] = "office"
    sentences = list(answers(client))
    job = client.get("/api/jobs").get_json()["jobs"][0]["id"]
    with app.app_context():
        engine = db.engine
    with reading(engine) as conn:
        built = build(conn, settings, job, "sealed", out)
    unpacked = out / "unpacked"
    subprocess.run([sys.executable, "-m", "zipfile", "-e", str(built.path), str(unpacked)], check=True)
    bag = next(unpacked.iterdir())
    verify = next(bag.rglob("verify.pyz"))
    verified = subprocess.run([sys.executable, str(verify), str(bag)], capture_output=True, text=True, check=False)
    page = (bag / "data" / "index.html").read_text(encoding="utf-8")
    print(json.dumps({"answers": sentences, "page": page, "verifier": verified.stdout, "code": verified.returncode}))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
