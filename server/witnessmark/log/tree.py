"""The Merkle tree of a workshop's log (RFC 6962, section 2.1) as it grows: its peaks, and the nodes worth keeping.

A peak is the root of a perfect subtree; a tree of n leaves has one peak for every 1 in the binary form of n.
"""

from __future__ import annotations

from collections.abc import Sequence

from witnessmark.proof.merkle import node_hash

# Subtrees below this level (256 leaves) are worked out from their leaves when somebody asks.
KEPT_LEVEL = 8
HASH_BYTES = 32


def grow(peaks: list[bytes], size: int, leaf: bytes, new_nodes: list[tuple[int, int, bytes]]) -> None:
    """Adds one leaf hash to a tree of `size` leaves, in place; nodes worth storing go to `new_nodes` as
    (level, place, hash)."""
    node, level, place = leaf, 0, size
    while place & 1:
        node = node_hash(peaks.pop(), node)
        level += 1
        place >>= 1
        if level >= KEPT_LEVEL:
            new_nodes.append((level, place, node))
    peaks.append(node)


def root_of(peaks: Sequence[bytes]) -> bytes:
    """The root of the tree with these peaks, largest first. Requires at least one."""
    node = peaks[-1]
    for peak in reversed(peaks[:-1]):
        node = node_hash(peak, node)
    return node


def pack_peaks(peaks: Sequence[bytes]) -> bytes:
    return b"".join(peaks)


def unpack_peaks(packed: bytes) -> list[bytes]:
    return [packed[start : start + HASH_BYTES] for start in range(0, len(packed), HASH_BYTES)]
