"""A founded workshop in a folder of its own: the app in this process, or behind the server that ships."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import pytest
import requests
from flask import Flask
from sqlalchemy import Engine

from tests.support.app_copies import app_on
from tests.support.phone import Phone
from witnessmark.app import create_app
from witnessmark.config import Settings, to_environment
from witnessmark.db import db, writing
from witnessmark.people import invitations
from witnessmark.people.persons import Person
from witnessmark.people.workshops import Workshop
from witnessmark.sync.founding import found_workshop

MANAGER = "Ida"
PASSWORD = "brass balloon 7"
START_SECONDS = 60  # a machine with other work is slow, and that is nothing wrong with the server


@dataclass
class Office:
    """A workshop and how to reach it from a test: `client` speaks as the office, `phone` makes a joined phone."""

    settings: Settings
    workshop: Workshop
    manager: Person
    app: Flask
    phones: list[Phone] = field(default_factory=list)

    @property
    def engine(self) -> Engine:
        with self.app.app_context():
            return db.engine

    def invite(self) -> str:
        with writing(self.engine) as conn:
            return invitations.invite(conn, self.workshop.id, self.manager.id, 900).code

    def phone(self, name: str = "Phone in bay 2") -> Phone:
        phone = Phone(self.speak, self.manager.id)
        status, answer = phone.join(self.invite(), name)
        assert status == 201, answer
        return phone

    def speak(self, method: str, path: str, body: dict | None, headers: dict) -> tuple[int, dict, dict]:
        answer = self.app.test_client().open(path, method=method, json=body, headers=headers)
        return answer.status_code, answer.get_json(silent=True) or {}, dict(answer.headers)

    def restart(self) -> Office:
        """The same folder behind a freshly started app."""
        with self.app.app_context():
            db.engine.dispose()
        return Office(self.settings, self.workshop, self.manager, create_app(self.settings))


def found_in(folder: Path) -> tuple[Settings, Workshop, Person]:
    settings = Settings(folder, secure_cookies=False)
    return settings, *found_workshop(settings, "Reed & Daughter, invented engine works", MANAGER, PASSWORD)


@pytest.fixture(scope="session")
def founded_once(tmp_path_factory) -> tuple[Path, Workshop, Person]:
    """Founding hashes a password and makes a key: done once, then copied."""
    folder = tmp_path_factory.mktemp("founded") / "data"
    _, workshop, manager = found_in(folder)
    return folder, workshop, manager


@pytest.fixture(scope="session")
def pattern_app(founded_once, tmp_path_factory) -> Flask:
    """An app that serves nobody: others are copied from it."""
    data = tmp_path_factory.mktemp("pattern") / "data"
    shutil.copytree(founded_once[0], data)
    app = create_app(Settings(data, secure_cookies=False))
    with app.app_context():
        db.engine.dispose()
    return app


@pytest.fixture
def office(founded_once, pattern_app, tmp_path):
    """A fresh workshop and its app in this process."""
    folder, workshop, manager = founded_once
    shutil.copytree(folder, tmp_path / "data")
    settings = Settings(tmp_path / "data", secure_cookies=False)
    here = Office(settings, workshop, manager, app_on(settings, pattern_app))
    yield here
    here.engine.dispose()


@pytest.fixture
def phone(office) -> Phone:
    """One phone that has joined."""
    return office.phone()


@pytest.fixture
def client(office):
    """The office's browser, signed in as the manager; every request carries the mark of our own page."""
    from_office = office.app.test_client()
    from_office.environ_base["HTTP_X_WITNESSMARK"] = "office"
    answer = from_office.post("/api/office/sign-in", json={"name": MANAGER, "password": PASSWORD})
    assert answer.status_code == 200, answer.get_json()
    return from_office


@dataclass
class RunningOffice(Office):
    """The same workshop behind granian, in processes of its own."""

    url: str = ""

    def speak(self, method: str, path: str, body: dict | None, headers: dict) -> tuple[int, dict, dict]:
        answer = requests.request(method, self.url + path, json=body, headers=headers, timeout=60)
        try:
            return answer.status_code, answer.json(), dict(answer.headers)
        except ValueError:
            return answer.status_code, {}, dict(answer.headers)


@pytest.fixture(scope="module")
def server_processes(request) -> int:
    """Two, so that what two processes may do to each other shows; one is enough behind a browser."""
    return 1 if request.node.get_closest_marker("browser") else 2


@pytest.fixture(scope="module")
def running(founded_once, tmp_path_factory, server_processes):
    """A workshop behind the server that ships, on a free port of this machine; the tests of a file share it."""
    folder, workshop, manager = founded_once
    data = tmp_path_factory.mktemp("running") / "data"
    shutil.copytree(folder, data)
    settings = Settings(data, secure_cookies=False)
    with serving(settings, server_processes) as url:
        here = RunningOffice(settings, workshop, manager, create_app(settings), url=url)
        yield here
        here.engine.dispose()


LISTEN = """
import sys
from witnessmark.config import from_environment
from witnessmark.operate.listener import listen
listen(from_environment(), "127.0.0.1", int(sys.argv[1]), int(sys.argv[2]), stop_seconds=1)
"""


class serving:
    """Runs one listener on the settings' folder for the length of a `with`; gives its address."""

    def __init__(self, settings: Settings, workers: int = 2) -> None:
        self._port = free_port()
        self._process = subprocess.Popen(
            [sys.executable, "-c", LISTEN, str(self._port), str(workers)], env=os.environ | to_environment(settings)
        )

    def __enter__(self) -> str:
        until = time.monotonic() + START_SECONDS
        while time.monotonic() < until:
            if self._process.poll() is not None:
                pytest.fail(f"the server stopped at once, with code {self._process.returncode}")
            try:
                requests.get(f"http://127.0.0.1:{self._port}/api/openapi.json", timeout=2)
                return f"http://127.0.0.1:{self._port}"
            except requests.RequestException:
                time.sleep(0.05)
        self.__exit__()
        pytest.fail(f"the server did not answer within {START_SECONDS} seconds")

    def __exit__(self, *_error) -> None:
        self._process.terminate()
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()


def free_port() -> int:
    with socket.socket() as found_free:
        found_free.bind(("127.0.0.1", 0))
        return found_free.getsockname()[1]
