"""The verifier's words. In a pack they lie beside this file as sentences.json, in the language of the workshop that
made the pack; in the source tree they are a section of the catalogue of sentences.

This room may use nothing but the standard library, so wordings are chosen to need no plural forms: "records: 3".
"""

from __future__ import annotations

import json
import os
import pkgutil
import re
from functools import lru_cache
from pathlib import Path

SECTION = "proof"
FILE = "sentences.json"

_slot = re.compile(r"\{([a-z0-9_]+)\}")


def say(key: str, /, **slots: object) -> str:
    """The sentence of a key ("proof.common.none") with its slots filled. Raises KeyError for an unknown key and for a
    slot left open."""
    wording = section()[key[len(SECTION) + 1 :]]
    return _slot.sub(lambda slot: str(slots[slot[1]]), wording)


@lru_cache(maxsize=1)
def section() -> dict[str, str]:
    """Every sentence of the verifier by its key, in the one language of this process."""
    try:
        return json.loads(pkgutil.get_data(__name__, FILE) or b"{}")
    except OSError:
        return _from_the_catalogue()


def _from_the_catalogue() -> dict[str, str]:
    folder = Path(__file__).resolve().parent.parent / "trade" / "data" / "sentences"
    own = os.environ.get("WITNESSMARK_LANGUAGE", "") or "en"
    catalogues = (json.loads((folder / f"{name}.json").read_text(encoding="utf-8")) for name in ("en", own))
    sentences: dict[str, str] = {}
    for catalogue in catalogues:
        sentences.update(catalogue.get(SECTION, {}))
    return sentences
