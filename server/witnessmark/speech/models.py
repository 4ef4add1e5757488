"""Where models lie and which they are: in a package, whose hash is known beforehand, or in a folder of the workshop's.

Whoever publishes a package of weights need not be who trained them. So a packaged model is used only when each of its
files is the one that was looked at; a workshop's own is used as it is, and its hash goes into every result.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from importlib import metadata
from pathlib import Path

from witnessmark.speech.recogniser import Unusable
from witnessmark.trade.ground.sentences import say


def version_of(package: str, install: str) -> str:
    """The installed version. Raises Unusable naming what to install."""
    try:
        return metadata.version(package)
    except metadata.PackageNotFoundError:
        raise Unusable(
            say("server.speech.not_installed", package=package), say("server.speech.install", package=install)
        ) from None


def folder_in(package: str, known: Mapping[str, str], install: str) -> Path:
    """The folder of a packaged model. `known`: file name -> SHA-256 in hex of each file that is read from it.

    Raises Unusable when the package is not there, or when a file is not the known one.
    """
    version_of(package, install)
    paths = {path.name: Path(str(path.locate())) for path in metadata.files(package) or [] if path.name in known}
    for name, sha256 in known.items():
        if name not in paths or not paths[name].is_file():
            raise Unusable(
                say("server.speech.file_missing", package=package, file=name),
                say("server.speech.reinstall", package=package),
            )
        if (other := hash_file(paths[name])) != sha256:
            raise Unusable(
                say("server.speech.other_model", file=name, package=package, found=other[:12], wanted=sha256[:12]),
                say("server.speech.named_version"),
            )
    return paths[next(iter(known))].parent


def own_folder(folder: Path, needed: tuple[str, ...], variable: str) -> Path:
    """A folder the workshop named, once it holds what is needed. Raises Unusable."""
    if not folder.is_dir():
        raise Unusable(
            say("server.speech.no_folder", folder=folder), say("server.speech.set_folder", variable=variable)
        )
    for name in needed:
        if not any(folder.glob(name)):
            raise Unusable(
                say("server.speech.folder_lacks", folder=folder, file=name.replace("*", "...")),
                say("server.speech.complete_folder", variable=variable),
            )
    return folder


def hash_file(path: Path) -> str:
    """SHA-256 of a file, in hex. (That of media/ would bring the database into a process that must not know it.)"""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def hash_folder(folder: Path) -> str:
    """SHA-256 in hex over the lines 'sha256  path' of every file below, sorted by path: what sha256sum would list."""
    running = hashlib.sha256()
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        running.update(f"{hash_file(path)}  {path.relative_to(folder).as_posix()}\n".encode())
    return running.hexdigest()


def bytes_in(folder: Path | None) -> int:
    """How large a folder is, in bytes; 0 for none."""
    return sum(p.stat().st_size for p in folder.rglob("*") if p.is_file()) if folder and folder.is_dir() else 0
