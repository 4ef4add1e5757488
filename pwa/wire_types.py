"""Writes src/wire/openapi.d.ts, the types of what the server answers and takes, from the server's own description.

Run it after a schema in server/witnessmark/web has changed: python pwa/wire_types.py. The server package must be
installed. openapi-typescript needs a TypeScript with an interface of its own, which the apps' has not; both are locked
in pwa/wire, so that building the apps needs neither.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

PWA = Path(__file__).resolve().parent
sys.path.insert(0, str(PWA))  # this file is loaded by its path from the tests

from build_app import environment, find_node, install  # noqa: E402

TYPES = PWA / "src" / "wire" / "openapi.d.ts"
GENERATOR = PWA / "wire"
OPTIONS = (
    "--root-types",
    "--root-types-no-schema-prefix",
    # What has a default may be left out of a body that is sent; answers leave nothing out.
    "--default-non-nullable=false",
)
HEAD = "// Written by pwa/wire_types.py from the server's /api/openapi.json. Never edited by hand.\n"


def generated() -> str:
    """The types as the server's description gives them now. Raises RuntimeError when they cannot be made."""
    from witnessmark.app import openapi_document

    install(GENERATOR)
    node, _, _ = find_node()
    with TemporaryDirectory() as folder:
        document, types = Path(folder, "openapi.json"), Path(folder, "openapi.d.ts")
        # The shapes alone: which address takes and answers which stands beside each call in the apps.
        shapes = openapi_document() | {"paths": {}}
        shapes["components"] = {"schemas": shapes["components"]["schemas"]}
        document.write_text(json.dumps(shapes), encoding="utf-8")
        command = [*node, "node_modules/openapi-typescript/bin/cli.js", str(document), "-o", str(types), *OPTIONS]
        done = subprocess.run(
            command, cwd=GENERATOR, env=environment(), capture_output=True, text=True, timeout=300, check=False
        )
        if done.returncode or not types.exists():
            raise RuntimeError(f"openapi-typescript failed:\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
        return HEAD + types.read_text(encoding="utf-8")


if __name__ == "__main__":
    TYPES.parent.mkdir(exist_ok=True)
    TYPES.write_text(generated(), encoding="utf-8")
    print(TYPES)
