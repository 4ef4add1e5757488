"""The log's tree: RFC 6962, section 2.1, and RFC 9162, section 2."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.proof import merkle

# Leaves, roots and proofs from the test data of transparency-dev/merkle, which follows RFC 6962.
LEAVES = ["", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f"]
ROOTS = [
    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
    "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
    "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
]
A = "96a296d224f285c67bee93c30f8a309157f0daa35dc5b87e410b78630a09cfc7"
B = "5f083f0a1a33ca076a95279832580db3e0ef4584bdff1f54c8a360f50de3031e"
C = "6b47aaf29ee3c2af9af889bc1fb9254dabd31177f16232dd6aab035ca39bf6e4"
D = "bc1a0643b12e4d2d7c77918f44e0f4f79a838b6cf9ec5b5c283e1f4d88599e6b"
E = "ca854ea128ed050b41b35ffc1b87b8eb2bde461e9e3b5596ece6b9d5975a0ae0"
F = "0ebc5d3437fbe2db158b9f126a1d118e308181031d0a949f8dededebc558ef6a"
G = "b08693ec2e721597130641e8211e7eedccb4c26413963eee6c1e2ed16ffb1a5f"


def leaves(count: int = 8) -> list[bytes]:
    return [merkle.leaf_hash(bytes.fromhex(LEAVES[i % 8]) + (b"" if i < 8 else bytes([i]))) for i in range(count)]


def hexes(proof: list[bytes]) -> list[str]:
    return [step.hex() for step in proof]


@all_cases("size", range(9))
def test_the_roots_are_those_of_the_published_tree(size):
    grown = merkle.Range()
    for leaf in leaves(size):
        grown.append(leaf)

    assert (
        ROOTS[size] == merkle.root(leaves(size)).hex() == grown.root().hex() == merkle.Tree(leaves(size)).root().hex()
    )


@pytest.mark.parametrize(
    ("index", "size", "proof"),
    [(0, 8, [A, B, C]), (5, 8, [D, E, ROOTS[4]]), (2, 3, [ROOTS[2]]), (1, 5, [ROOTS[1], B, D]), (0, 1, [])],
)
def test_the_way_to_the_root_is_the_published_one(index, size, proof):
    assert proof == hexes(merkle.inclusion_proof(leaves(), index, size))


@pytest.mark.parametrize(
    ("old", "new", "proof"),
    [(1, 8, [A, B, C]), (6, 8, [F, E, ROOTS[4]]), (2, 5, [B, D]), (6, 7, [F, G, ROOTS[4]]), (1, 1, [])],
)
def test_the_proof_that_nothing_was_rewritten_is_the_published_one(old, new, proof):
    assert proof == hexes(merkle.consistency_proof(leaves(), old, new))


@given(st.integers(1, 70), st.data())
def test_every_entry_of_every_log_can_be_shown_to_be_in_it_and_nowhere_else(size, data):
    index = data.draw(st.integers(0, size - 1))
    elsewhere = data.draw(st.integers(0, size - 1).filter(lambda i: i != index)) if size > 1 else 1
    own, root = leaves(size), merkle.root(leaves(size))
    proof = merkle.inclusion_proof(own, index, size)

    assert merkle.verify_inclusion(own[index], index, size, proof, root)
    assert not merkle.verify_inclusion(own[index], elsewhere, size, proof, root)
    assert not merkle.verify_inclusion(merkle.leaf_hash(b"another"), index, size, proof, root)
    assert not merkle.verify_inclusion(own[index], index, size, [*proof, root], root)
    assert not proof or not merkle.verify_inclusion(own[index], index, size, proof[:-1], root)
    assert not merkle.verify_inclusion(own[index], index, size, proof, merkle.leaf_hash(b"another root"))


@given(st.integers(1, 70), st.data())
def test_a_log_that_only_grew_can_show_it_and_one_that_was_rewritten_cannot(size, data):
    old = data.draw(st.integers(1, size))
    own = leaves(size)
    rewritten = [merkle.leaf_hash(b"another"), *own[1:]]
    proof = merkle.consistency_proof(own, old, size)
    before, after = merkle.root(own[:old]), merkle.root(own)

    assert merkle.verify_consistency(old, size, before, after, proof)
    assert not merkle.verify_consistency(old, size, merkle.root(rewritten[:old]), after, proof)
    assert not merkle.verify_consistency(old, size, before, merkle.root(rewritten), proof)
    assert not merkle.verify_consistency(old, size, before, after, [*proof, before])
    assert not proof or not merkle.verify_consistency(old, size, before, after, proof[:-1])


def test_a_range_goes_on_from_what_was_kept_of_it():
    kept = merkle.Range()
    for leaf in leaves(5):
        kept.append(leaf)
    again = merkle.Range(kept.hashes, kept.size)
    for leaf in leaves(8)[5:]:
        again.append(leaf)

    assert ROOTS[8] == again.root().hex()
    with pytest.raises(ValueError):
        merkle.Range(kept.hashes, 8)


@pytest.mark.parametrize(
    "ask", [lambda: merkle.inclusion_proof(leaves(), 8, 8), lambda: merkle.inclusion_proof(leaves(), 0, 9)]
)
def test_a_place_outside_the_log_is_refused(ask):
    with pytest.raises(ValueError):
        ask()


@pytest.mark.parametrize(("old", "new"), [(0, 3), (4, 3), (-1, 3)])
def test_growth_that_is_none_is_neither_proved_nor_believed(old, new):
    with pytest.raises(ValueError):
        merkle.consistency_proof(leaves(), old, new)
    assert not merkle.verify_consistency(old, new, merkle.EMPTY_ROOT, merkle.root(leaves(3)), [])
