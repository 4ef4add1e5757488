"""Makes verify.pyz: this room as one file that runs with `python3 verify.pyz`, on any machine with Python 3.9."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

from witnessmark.proof import sentences

MAIN = b"import sys\n\nfrom witnessmark.proof.verify_cli import main\n\nsys.exit(main(sys.argv[1:]))\n"
LONG_AGO = (1980, 1, 1, 0, 0, 0)


def make() -> bytes:
    """The bytes of verify.pyz, in the language of this process; the same for the same program and language, so that
    two packs can be compared."""
    room = Path(__file__).parent
    files = {"__main__.py": MAIN, "witnessmark/__init__.py": b"", "witnessmark/proof/__init__.py": b""}
    for path in sorted(room.glob("*.py")):
        if path.name != "__init__.py":
            files[f"witnessmark/proof/{path.name}"] = path.read_bytes()
    words = json.dumps(sentences.section(), ensure_ascii=False, indent=1, sort_keys=True)
    files[f"witnessmark/proof/{sentences.FILE}"] = words.encode()
    whole = io.BytesIO()
    whole.write(b"#!/usr/bin/env python3\n")
    with zipfile.ZipFile(whole, "a", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            info = zipfile.ZipInfo(name, LONG_AGO)
            info.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(info, data)
    return whole.getvalue()
