"""Our proofs before outside judges: the packages rfc8785 and pymerkle."""

from __future__ import annotations

import rfc8785
from hypothesis import given
from hypothesis import strategies as st
from pymerkle import InmemoryTree, verify_consistency, verify_inclusion
from pymerkle.hasher import MerkleHasher

from witnessmark.proof import merkle
from witnessmark.proof.canonical import LARGEST, canonical

scalars = st.none() | st.booleans() | st.integers(-LARGEST, LARGEST) | st.text()
values = st.recursive(scalars, lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=20)


@given(values)
def test_the_package_rfc8785_writes_the_same_bytes(value):
    assert rfc8785.dumps(value) == canonical(value)


@given(st.lists(st.binary(max_size=8), min_size=1, max_size=40))
def test_pymerkle_builds_the_same_tree(data):
    theirs = InmemoryTree.init_from_entries(data, algorithm="sha256")

    assert theirs.get_root() == merkle.root(map(merkle.leaf_hash, data))


@given(st.lists(st.binary(max_size=8), min_size=1, max_size=40), st.data())
def test_pymerkle_and_we_accept_the_same_proofs(data, choice):
    theirs = InmemoryTree.init_from_entries(data, algorithm="sha256")
    size, own = len(data), [merkle.leaf_hash(item) for item in data]
    index, old = choice.draw(st.integers(0, size - 1)), choice.draw(st.integers(1, size))

    verify_inclusion(own[index], theirs.get_root(), theirs.prove_inclusion(index + 1))
    verify_consistency(theirs.get_root(old), theirs.get_root(), theirs.prove_consistency(old, size))
    assert MerkleHasher("sha256").hash_buff(data[index]) == own[index]
    assert merkle.verify_inclusion(own[index], index, size, merkle.inclusion_proof(own, index, size), theirs.get_root())
    assert merkle.verify_consistency(
        old, size, theirs.get_root(old), theirs.get_root(), merkle.consistency_proof(own, old, size)
    )
