"""The places in an Ogg Opus recording that may hold words about it, by the second rule (RFC 3533, RFC 7845): one
stream of whole pages from the first byte on, with its comments on the second page and nothing behind its last.
"""

from __future__ import annotations

from witnessmark.proof.containers import Words, is_opus_head, ogg_checksum, ogg_comments, ogg_page_end
from witnessmark.proof.sentences import say

FIRST, LAST = 2, 4
NO_PACKET_ENDS = (1 << 64) - 1
# Samples of 48 kHz: more than a century.
LONGEST = 1 << 48


def places(data: bytes) -> list[Words]:
    """All places for words, in order. Raises ValueError for a file that is damaged, or has anything in it that is not
    of one stream of sound."""
    head = ogg_page_end(data, 0)
    start = 27 + data[26]
    if not data[5] & FIRST or data[26] != 1 or not is_opus_head(data[start:head]):
        raise ValueError(say("proof.sound.mixed"))
    result, at, played, last = ogg_comments(data, head), 0, 0, False
    while data[at : at + 4] == b"OggS" and not last:
        try:
            end = ogg_page_end(data, at)
        except ValueError:
            # A recording that was broken off ends within its last page, which no player plays.
            break
        flags, position = data[at + 5], int.from_bytes(data[at + 6 : at + 14], "little")
        page = data[at : at + 22] + bytes(4) + data[at + 26 : end]
        # Players pass over a page of another stream, or one whose checksum is wrong: it could carry anything.
        if data[at + 4] or flags > 7 or data[at + 14 : at + 18] != data[14:18] or bool(flags & FIRST) != (at == 0):
            raise ValueError(say("proof.sound.more"))
        if at != head and ogg_checksum(page) != int.from_bytes(data[at + 22 : at + 26], "little"):
            raise ValueError(say("proof.sound.false_checksum", at=at))
        if position != NO_PACKET_ENDS and not played <= position < LONGEST:
            raise ValueError(say("proof.sound.mixed"))
        played = played if position == NO_PACKET_ENDS else position
        at, last = end, bool(flags & LAST)
    if data.find(b"OggS", at if last else at + 1) >= 0:
        raise ValueError(say("proof.sound.more"))
    if at < len(data):
        result.append(Words(say("proof.sound.after_end"), at, len(data), bytes(len(data) - at)))
    return result
