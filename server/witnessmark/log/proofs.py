"""Proofs over a log of any length (RFC 6962, sections 2.1.1 and 2.1.2), read from stored nodes and one block of leaves.

A proof touches a number of rows that grows with the logarithm of the log, plus at most 256 leaves a block.
"""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, select

from witnessmark.log import tables
from witnessmark.log.tree import KEPT_LEVEL
from witnessmark.proof.merkle import node_hash

BLOCK = 1 << KEPT_LEVEL


class Tree:
    """One workshop's tree for the length of a request; nodes are read once and remembered."""

    def __init__(self, conn: Connection, workshop: str) -> None:
        self._conn = conn
        self._workshop = workshop
        self._nodes: dict[tuple[int, int], bytes] = {}
        self._blocks: set[int] = set()
        self._ways: dict[tuple[int, int, int], list[str]] = {}

    def root(self, size: int) -> bytes:
        """The root over the first `size` leaves. Requires 1 <= size <= size of the log."""
        return self._range(0, size)

    def inclusion(self, position: int, size: int) -> list[str]:
        """Hex hashes that lead from the leaf of `position` (from 1) to the root over `size` leaves."""
        if not 1 <= position <= size:
            raise ValueError(f"inclusion: position {position} is not within a log of {size} entries")
        return self._way_up(0, position - 1, size)

    def shared_inclusions(self, positions: Sequence[int], size: int) -> tuple[list[str], list[list[int]]]:
        """The paths of `inclusion` for several leaves, each hash written once: the hashes, and for each position the
        places of its own among them. Neighbours share most of their way up."""
        places: dict[str, int] = {}
        paths = [
            [places.setdefault(node, len(places)) for node in self.inclusion(position, size)] for position in positions
        ]
        return list(places), paths

    def inclusions(self, positions: Sequence[int], size: int) -> dict[int, list[str]]:
        return {position: self.inclusion(position, size) for position in positions}

    def consistency(self, old: int, new: int) -> list[str]:
        """Hex hashes that show the log of `old` entries to be the beginning of the log of `new` entries."""
        if not 0 <= old <= new:
            raise ValueError(f"consistency: {old} entries are not the beginning of {new}")
        if old in (0, new):
            return []
        return [node.hex() for node in self._grown(old, 0, new, True)]

    def _way_up(self, level: int, place: int, size: int) -> list[str]:
        """The hashes beside the way from a subtree to the root. Remembered: neighbours share all but a step of it."""
        if 1 << level >= size:
            return []
        key = (level, place, size)
        if key not in self._ways:
            way = self._way_up(level + 1, place >> 1, size)
            start = (place ^ 1) << level
            # At the right edge a subtree without a neighbour is taken over as it is.
            if start < size:
                way = [self._range(start, min(start + (1 << level), size)).hex(), *way]
            self._ways[key] = way
        return self._ways[key]

    def _grown(self, old: int, start: int, end: int, whole: bool) -> list[bytes]:
        if old == end - start:
            return [] if whole else [self._range(start, end)]
        half = _split(end - start)
        if old <= half:
            return [*self._grown(old, start, start + half, whole), self._range(start + half, end)]
        return [*self._grown(old - half, start + half, end, False), self._range(start, start + half)]

    def _range(self, start: int, end: int) -> bytes:
        length = end - start
        if length & (length - 1) == 0:
            level = length.bit_length() - 1
            return self._node(level, start >> level)
        middle = start + _split(length)
        return node_hash(self._range(start, middle), self._range(middle, end))

    def _node(self, level: int, place: int) -> bytes:
        key = (level, place)
        if key not in self._nodes:
            if level >= KEPT_LEVEL:
                self._nodes[key] = self._kept(level, place)
            elif level == 0:
                self._load(place >> KEPT_LEVEL)
            else:
                self._nodes[key] = node_hash(self._node(level - 1, 2 * place), self._node(level - 1, 2 * place + 1))
        return self._nodes[key]

    def _kept(self, level: int, place: int) -> bytes:
        c = tables.nodes.c
        query = select(c.hash).where(c.workshop == self._workshop, c.level == level, c.place == place)
        return self._conn.execute(query).scalar_one()

    def _load(self, block: int) -> None:
        if block in self._blocks:
            raise ValueError("proof: the log is shorter than the size asked for")
        c = tables.entries.c
        first = block * BLOCK
        query = select(c.position, c.leaf).where(
            c.workshop == self._workshop, c.position.between(first + 1, first + BLOCK)
        )
        self._nodes |= {(0, position - 1): leaf for position, leaf in self._conn.execute(query)}
        self._blocks.add(block)


def _split(length: int) -> int:
    """The largest power of two below `length`."""
    return 1 << (length - 1).bit_length() - 1
