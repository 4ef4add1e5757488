"""Settings, read once. Nothing here is read at import: whoever starts the program makes a Settings and hands it on."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

MIB = 1024 * 1024


@dataclass(frozen=True)
class Settings:
    """Where one workshop keeps its things, and the limits it works with.

    `data` is the one folder that holds everything (database, originals, keys). Sizes are bytes, spans seconds.
    """

    data: Path
    public_url: str = ""
    demo: bool = False
    database_url: str = ""
    build: str = "0.1.0"
    app_folder: Path | None = None
    secure_cookies: bool = True
    speech: str = ""  # recognisers to ask, separated by commas; '' all that are usable, 'none' no speech at all
    whisper_model: Path | None = None  # a folder with a model of the workshop's own
    vosk_model: Path | None = None
    chunk_bytes: int = MIB
    push_bytes: int = 4 * MIB  # the phone sends 2 MB at most
    json_bytes: int = MIB
    body_bytes: int = 64 * MIB
    entries_per_push: int = 1000
    session_seconds: int = 12 * 3600
    invitation_seconds: int = 15 * 60

    @property
    def database(self) -> str:
        return self.database_url or f"sqlite:///{self.data / 'witnessmark.db'}"

    @property
    def media(self) -> Path:
        return self.data / "media"

    @property
    def uploads(self) -> Path:
        return self.data / "uploads"

    @property
    def previews(self) -> Path:
        return self.data / "previews"

    @property
    def hearing(self) -> Path:
        """Samples of a sound while it is listened to."""
        return self.data / "hearing"

    @property
    def packs(self) -> Path:
        return self.data / "packs"

    @property
    def keys(self) -> Path:
        return self.data / "keys"

    @property
    def server_key(self) -> Path:
        return self.keys / "server.pem"

    @property
    def epoch(self) -> Path:
        """Outside the database on purpose: a restored database must not bring its old epoch back."""
        return self.data / "epoch"

    @property
    def issued(self) -> Path:
        """The highest log size ever promised in a receipt; outside the database for the same reason."""
        return self.data / "issued"

    @property
    def durable(self) -> Path:
        """The log size held by the last verified backup, and the epoch it belongs to."""
        return self.data / "durable.json"

    @property
    def tasks(self) -> Path:
        return self.data / "tasks.db"

    @property
    def certificate(self) -> Path:
        return self.data / "certificate"


def from_environment(environment: Mapping[str, str] = os.environ) -> Settings:
    """Settings for a worker process, from WITNESSMARK_DATA and its companions.

    Errors: SystemExit naming the variable that is missing.
    """
    data = environment.get("WITNESSMARK_DATA", "")
    if not data:
        raise SystemExit("WITNESSMARK_DATA is not set: name the folder that holds the workshop's data.")
    return Settings(
        data=Path(data),
        public_url=environment.get("WITNESSMARK_URL", ""),
        demo=environment.get("WITNESSMARK_DEMO", "") == "1",
        database_url=environment.get("WITNESSMARK_DATABASE", ""),
        app_folder=Path(folder) if (folder := environment.get("WITNESSMARK_APP", "")) else None,
        secure_cookies=environment.get("WITNESSMARK_PLAIN_HTTP", "") != "1",
        **speech_settings(environment),
    )


def speech_settings(environment: Mapping[str, str] = os.environ) -> dict[str, Any]:
    """The recogniser settings of the environment, as fields of Settings; commands take the rest as options."""
    return {
        "speech": environment.get("WITNESSMARK_SPEECH", "").strip(),
        "whisper_model": Path(folder) if (folder := environment.get("WITNESSMARK_WHISPER_MODEL", "")) else None,
        "vosk_model": Path(folder) if (folder := environment.get("WITNESSMARK_VOSK_MODEL", "")) else None,
    }


def to_environment(settings: Settings) -> dict[str, str]:
    """The variables from which `from_environment` makes the same settings again in a worker process."""
    return {
        "WITNESSMARK_DATA": str(settings.data),
        "WITNESSMARK_URL": settings.public_url,
        "WITNESSMARK_DEMO": "1" if settings.demo else "",
        "WITNESSMARK_DATABASE": settings.database_url,
        "WITNESSMARK_APP": str(settings.app_folder or ""),
        "WITNESSMARK_PLAIN_HTTP": "" if settings.secure_cookies else "1",
        "WITNESSMARK_SPEECH": settings.speech,
        "WITNESSMARK_WHISPER_MODEL": str(settings.whisper_model or ""),
        "WITNESSMARK_VOSK_MODEL": str(settings.vosk_model or ""),
    }


def sample_media_folder() -> Path:
    """The invented pictures and their story."""
    return _shipped("sample_media", "sample_media")


def built_app_folder() -> Path:
    """The built faces, `bay` and `office`, and the `fonts` of packs. Made by `pwa/build_app.py`."""
    return _shipped("pwa", "pwa/dist")


def _shipped(name: str, in_checkout: str) -> Path:
    """What comes with the program: beside the package in a wheel, in the checkout otherwise."""
    here = Path(__file__).resolve().parent
    shipped = here / "shipped" / name
    return shipped if shipped.is_dir() else here.parent.parent / in_checkout
