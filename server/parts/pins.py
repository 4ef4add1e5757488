"""Makes the lists of versions again: `python server/parts/pins.py`, with a network and the extra `upkeep`.

All hold for every system and every Python that the program runs on; which of them need a part, its line says.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
PROJECT = HERE.parents[1] / "pyproject.toml"
# No addresses: where packages come from is a matter of the machine.
COMMON = ["--no-header", "--no-emit-index-url", "--no-emit-find-links", "--no-annotate", "--quiet"]
LISTS = {
    "constraints.txt": ["--universal", "--extra", "test", "--upgrade"],
    "lowest.txt": ["--universal", "--resolution", "lowest-direct", "--upgrade"],
    # Nothing newer than what was tested.
    "lock.txt": ["--universal", "--generate-hashes", "--constraints", str(HERE / "constraints.txt")],
}


def main() -> None:
    for name, options in LISTS.items():
        command = [sys.executable, "-m", "uv", "pip", "compile", str(PROJECT), *COMMON, *options]
        subprocess.run([*command, "--output-file", str(HERE / name)], check=True, stdout=subprocess.DEVNULL)
        print(f"{name}: {sum('==' in line for line in (HERE / name).read_text().splitlines())} parts")


if __name__ == "__main__":
    main()
