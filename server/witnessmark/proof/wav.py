"""The places in a WAV recording that may hold words about it, by the second rule: all but one `fmt `, one `fact` and
one `data` chunk, each of the length that its standard gives it.
"""

from __future__ import annotations

import struct

from witnessmark.proof.containers import Words
from witnessmark.proof.sentences import say

PCM, FLOAT, A_LAW, MU_LAW, EXTENSIBLE = 1, 3, 6, 7, 0xFFFE
# The rest of a format's long name (KSDATAFORMAT_SUBTYPE) behind its number.
LONG_NAME = b"\0\0\0\0\x10\0\x80\0\0\xaa\0\x38\x9b\x71"


def places(data: bytes) -> list[Words]:
    """All places for words, in order. Raises ValueError for a file whose format says more than it should."""
    result: list[Words] = []
    kept: set[bytes] = set()
    at, end = 12, min(8 + int.from_bytes(data[4:8], "little"), len(data))
    while at + 8 <= end:
        name, size = data[at : at + 4], int.from_bytes(data[at + 4 : at + 8], "little")
        after = min(at + 8 + size, len(data))
        if name == b"fmt " and name not in kept and not _plain(data[at + 8 : after]):
            raise ValueError(say("proof.sound.mixed"))
        if name in kept or name not in (b"fmt ", b"data", b"fact") or name == b"fact" and size != 4:
            title = name.decode("ascii", "replace").strip()
            result.append(Words(title, at, at + 4, b"JUNK"))
            result.append(Words(title, at + 8, after, bytes(after - at - 8)))
        kept.add(name)
        if size & 1 and after < len(data):
            result.append(Words(say("proof.sound.filling"), after, after + 1, b"\0"))
        at = min(after + (size & 1), len(data))
    if not kept >= {b"fmt ", b"data"}:
        raise ValueError(say("proof.sound.no_sound"))
    if at < len(data):
        result.append(Words(say("proof.sound.after_end"), at, len(data), bytes(len(data) - at)))
    return result


def _plain(content: bytes) -> bool:
    """Whether a `fmt ` chunk is of a sort known here, with nothing behind its fields."""
    if len(content) < 16:
        return False
    (sort,) = struct.unpack_from("<H", content)
    if sort == EXTENSIBLE:
        return len(content) == 40 and content[16:18] == b"\x16\0" and content[26:] == LONG_NAME
    return sort in (PCM, FLOAT, A_LAW, MU_LAW) and (len(content) == 16 or content[16:] == b"\0\0")
