"""What the page of a pack needs to check itself in a browser without a network: the signed records and a script."""

from __future__ import annotations

import base64
import hashlib
import json
from pathlib import Path

from witnessmark.pack.record import Record
from witnessmark.trade.ground.sentences import say

SCRIPT = (Path(__file__).parent / "page_check.js").read_text()


def signed(record: Record, spki: bytes) -> str:
    """The records as they were signed with their receipts, the head and the server's key: JSON that ends no script."""
    places: dict[str, int] = {}
    records = [
        {
            "bytes": row.bytes.decode(),
            "offset_ms": row.offset_ms,
            "path": [places.setdefault(step, len(places)) for step in record.proofs[row.position]],
            "position": row.position,
            "received": row.received,
            "signature": row.signature,
        }
        for row in record.rows
    ]
    data = {
        "hashes": list(places),
        "head": record.head.bytes.decode(),
        "head_signature": record.head.signature,
        "records": records,
        "server_key": base64.b64encode(spki).decode(),
        "words": _words(),
    }
    return json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")


def _words() -> dict[str, str]:
    """The sentences of the script, which puts the figures in itself."""
    return {
        "as_signed": say("pack.page_check.as_signed"),
        "cannot": say("pack.page_check.cannot"),
        "checking": say("pack.page_check.checking"),
        "failed": say("pack.page_check.failed", reason="{reason}"),
        "faulty": say("pack.page_check.faulty", number="{number}"),
        "head": say("pack.page_check.head"),
        "not_among": say("pack.page_check.not_among"),
        "not_in_log": say("pack.page_check.not_in_log"),
        "not_signed": say("pack.page_check.not_signed"),
        "position": say("pack.page_check.position", position="{position}"),
        "well": say("pack.page_check.well", count="{count}", size="{size}", server="{server}"),
    }


def place() -> str:
    """Where the result stands, at the top of the page; without a script it says how to check the pack otherwise."""
    return f'<p id="check" class="small" role="status">{say("pack.page_check.no_script")}</p>'


def policy(scripts: list[str]) -> str:
    """The page runs these scripts and no other, and speaks to nobody."""
    hashes = " ".join(
        f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'" for text in scripts
    )
    rules = (
        f"default-src 'none'; script-src {hashes}; style-src 'unsafe-inline'; font-src data:; "
        "img-src 'self' file: data:; media-src 'self' file: data:; base-uri 'none'; form-action 'none'"
    )
    return f'<meta http-equiv="Content-Security-Policy" content="{rules}">'
