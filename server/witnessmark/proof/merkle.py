"""The Merkle tree of the log, as RFC 9162 section 2 (and RFC 6962 before it) defines it, over SHA-256.

A leaf hash is SHA-256(00 || data), a node SHA-256(01 || left || right). All hashes here are 32 raw bytes, all
indexes start at 0; the log's positions start at 1, so the entry at position p is leaf p - 1.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence

EMPTY_ROOT = hashlib.sha256(b"").digest()


def leaf_hash(data: bytes) -> bytes:
    """The hash of one leaf."""
    return hashlib.sha256(b"\x00" + data).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """The hash of the node above `left` and `right`."""
    return hashlib.sha256(b"\x01" + left + right).digest()


class Range:
    """A compact range: the roots of the perfect subtrees that make up the first `size` leaves, largest first.

    Appending and taking the root cost at most one hash for each bit of the size, whatever the size. `hashes` and
    `size` are the whole state: keep them and the range can go on later.
    """

    def __init__(self, hashes: Iterable[bytes] = (), size: int = 0):
        self.hashes = list(hashes)
        self.size = size
        if len(self.hashes) != bin(size).count("1"):
            raise ValueError(f"a range of {size} leaves has {bin(size).count('1')} hashes, not {len(self.hashes)}")

    def append(self, leaf: bytes) -> None:
        """Adds one leaf hash at the end."""
        carry, size = leaf, self.size
        while size & 1:
            carry = node_hash(self.hashes.pop(), carry)
            size >>= 1
        self.hashes.append(carry)
        self.size += 1

    def root(self) -> bytes:
        """The root over all leaves appended so far."""
        if not self.hashes:
            return EMPTY_ROOT
        top = self.hashes[-1]
        for left in reversed(self.hashes[:-1]):
            top = node_hash(left, top)
        return top


class Tree:
    """Every node over the given leaf hashes, computed once, for cutting many proofs.

    A node without a right neighbour is carried up unchanged; that yields exactly the tree of RFC 9162.
    """

    def __init__(self, leaf_hashes: Iterable[bytes]):
        level = list(leaf_hashes)
        self.size = len(level)
        self.levels = [level]
        while len(level) > 1:
            above = [node_hash(level[i], level[i + 1]) for i in range(0, len(level) - 1, 2)]
            if len(level) % 2:
                above.append(level[-1])
            self.levels.append(above)
            level = above

    def root(self) -> bytes:
        """The root over all leaves."""
        return self.levels[-1][0] if self.size else EMPTY_ROOT

    def inclusion_proof(self, index: int) -> list[bytes]:
        """The path from leaf `index` to the root, lowest first. Requires 0 <= index < size."""
        if not 0 <= index < self.size:
            raise ValueError(f"leaf {index} is not in a tree of {self.size}")
        proof = []
        for level in self.levels[:-1]:
            if index ^ 1 < len(level):
                proof.append(level[index ^ 1])
            index >>= 1
        return proof

    def consistency_proof(self, old: int) -> list[bytes]:
        """The proof that the first `old` leaves are the beginning of this tree. Requires 0 < old <= size."""
        if not 0 < old <= self.size:
            raise ValueError(f"no tree of {old} leaves stands at the beginning of one of {self.size}")
        return self._subproof(old, 0, self.size, True)

    def _subproof(self, old: int, start: int, end: int, whole: bool) -> list[bytes]:
        # RFC 9162, 2.1.4.1: SUBPROOF(m, D_n, b), with D_n given by its borders in the whole list.
        if old == end - start:
            return [] if whole else [self._root_of(start, end)]
        middle = _largest_power_below(end - start)
        if old <= middle:
            below = self._subproof(old, start, start + middle, whole)
            return [*below, self._root_of(start + middle, end)]
        return [*self._subproof(old - middle, start + middle, end, False), self._root_of(start, start + middle)]

    def _root_of(self, start: int, end: int) -> bytes:
        # Requires a range met while splitting the whole tree: aligned at its start, full or ending with the tree.
        height = (end - start - 1).bit_length()
        return self.levels[height][start >> height]


def root(leaf_hashes: Iterable[bytes]) -> bytes:
    """The root over all given leaf hashes."""
    whole = Range()
    for leaf in leaf_hashes:
        whole.append(leaf)
    return whole.root()


def inclusion_proof(leaf_hashes: Sequence[bytes], index: int, size: int) -> list[bytes]:
    """The path from leaf `index` to the root of the first `size` leaves. Requires 0 <= index < size."""
    return _beginning(leaf_hashes, size).inclusion_proof(index)


def consistency_proof(leaf_hashes: Sequence[bytes], old: int, new: int) -> list[bytes]:
    """The proof that the tree of `new` leaves begins with that of `old`. Requires 0 < old <= new."""
    return _beginning(leaf_hashes, new).consistency_proof(old)


def verify_inclusion(leaf: bytes, index: int, size: int, proof: Sequence[bytes], expected_root: bytes) -> bool:
    """Whether `proof` leads from `leaf` at `index` to `expected_root` over `size` leaves (RFC 9162, 2.1.3.2)."""
    if not 0 <= index < size:
        return False
    first, last, hash_so_far = index, size - 1, leaf
    for step in proof:
        if last == 0:
            return False
        if first & 1 or first == last:
            hash_so_far = node_hash(step, hash_so_far)
            if not first & 1:
                while first and not first & 1:
                    first, last = first >> 1, last >> 1
        else:
            hash_so_far = node_hash(hash_so_far, step)
        first, last = first >> 1, last >> 1
    return last == 0 and hash_so_far == expected_root


def root_before(index: int, size: int, proof: Sequence[bytes]) -> bytes | None:
    """The root over the first `index` leaves, from the path of the leaf at `index` in a tree of `size`; None where
    there is none (index 0, or a path of another length).

    What stands on the left of such a path are the very subtrees that the first `index` leaves are made of. Worth as
    much as the path: check that first.
    """
    first, last, before = index, size - 1, None
    for step in proof:
        if last == 0:
            return None
        if first & 1 or first == last:
            before = step if before is None else node_hash(step, before)
            if not first & 1:
                while first and not first & 1:
                    first, last = first >> 1, last >> 1
        first, last = first >> 1, last >> 1
    return before if last == 0 else None


def verify_consistency(old: int, new: int, old_root: bytes, new_root: bytes, proof: Sequence[bytes]) -> bool:
    """Whether `proof` shows that the tree of `new` leaves begins with that of `old` (RFC 9162, 2.1.4.2).

    Nothing precedes an empty tree: for old == 0 there is no proof to give and the answer is False.
    """
    if not 0 < old <= new:
        return False
    if old == new:
        return not proof and old_root == new_root
    path = list(proof)
    if old & (old - 1) == 0:
        path.insert(0, old_root)
    if not path:
        return False
    first, last = old - 1, new - 1
    while first & 1:
        first, last = first >> 1, last >> 1
    found_old = found_new = path[0]
    for step in path[1:]:
        if last == 0:
            return False
        if first & 1 or first == last:
            found_old, found_new = node_hash(step, found_old), node_hash(step, found_new)
            if not first & 1:
                while first and not first & 1:
                    first, last = first >> 1, last >> 1
        else:
            found_new = node_hash(found_new, step)
        first, last = first >> 1, last >> 1
    return last == 0 and found_old == old_root and found_new == new_root


def _beginning(leaf_hashes: Sequence[bytes], size: int) -> Tree:
    if not 0 <= size <= len(leaf_hashes):
        raise ValueError(f"there are {len(leaf_hashes)} leaves, not {size}")
    return Tree(leaf_hashes[:size])


def _largest_power_below(n: int) -> int:
    return 1 << ((n - 1).bit_length() - 1)
