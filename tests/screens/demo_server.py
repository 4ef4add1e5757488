"""The demo as a user starts it, for those who look at it: `witnessmark demo` in a process of its own."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

from tests.support.workshop import free_port


class Demo:
    """`with Demo(folder) as demo`: `demo.url` answers, `demo.code` joins one phone."""

    def __init__(self, folder: Path) -> None:
        self.port = free_port()
        self.url = f"http://localhost:{self.port}"
        self.code = ""
        self._folder = folder

    def __enter__(self) -> Demo:
        command = [
            sys.executable,
            "-m",
            "witnessmark.cli",
            "demo",
            "--data",
            str(self._folder),
            "--port",
            str(self.port),
        ]
        self._process = subprocess.Popen(
            command, stdout=subprocess.PIPE, text=True, env=os.environ | {"PYTHONUNBUFFERED": "1"}
        )
        output = []
        for line in self._process.stdout:
            output.append(line)
            if match := re.search(r"code ([A-Z0-9]{4}-[A-Z0-9]{4})", line):
                self.code = match[1]
            if line.startswith("Data"):
                break
        if not self.code:
            raise RuntimeError("the demo did not start:\n" + "".join(output))
        return self

    def __exit__(self, *_error) -> None:
        self._process.send_signal(signal.SIGTERM)
        self._process.wait(30)
        self._process.stdout.close()
