"""Signatures: what is accepted is exactly what another library accepts, and nothing malformed gets through."""

from __future__ import annotations

import base64

import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.support.cases import all_cases
from witnessmark.proof import keys

ECDSA = ec.ECDSA(hashes.SHA256())
MESSAGE = b"bore 3, top, thrust"


def key_of(secret: int) -> ec.EllipticCurvePrivateKey:
    return ec.derive_private_key(secret, ec.SECP256R1())


def spki(key: ec.EllipticCurvePrivateKey) -> bytes:
    form = serialization.PublicFormat.SubjectPublicKeyInfo
    return key.public_key().public_bytes(serialization.Encoding.DER, form)


def judge(key: ec.EllipticCurvePrivateKey, raw: bytes, message: bytes) -> bool:
    """Outside judge: the package `cryptography` (OpenSSL)."""
    r, s = int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big")
    try:
        key.public_key().verify(encode_dss_signature(r, s), message, ECDSA)
    except InvalidSignature:
        return False
    return True


def test_a_published_signature_verifies():
    """RFC 6979, A.2.5: P-256 with SHA-256, message "sample"."""
    public = keys.SPKI_PREFIX + bytes.fromhex(
        "60FED4BA255A9D31C961EB74C6356D68C049B8923B61FA6CE669622E60F29FB6"
        "7903FE1008B8BC99A41AE9E95628BC64F2F1B20C2D7E9F5177A3C294D4462299"
    )
    signature = bytes.fromhex(
        "EFD48B2AACB6A8FD1140DD9CD45E81D69D2C877B56AAF991C34D0EA84EAF3716"
        "F7CB1C942D657C41D436C7A1B6E29F65F3E900DBB9AFF4064DC4AB2F843ACDA8"
    )

    assert keys.verify(public, signature, b"sample")
    assert keys.verify(public, base64.b64encode(signature).decode(), b"sample")
    assert not keys.verify(public, signature, b"test")


@given(st.integers(1, keys.N - 1), st.binary(max_size=200))
@settings(max_examples=25, deadline=None)
def test_what_the_judge_signs_we_accept_and_another_message_not(secret, message):
    key = key_of(secret)
    raw = keys.raw_from_der(key.sign(message, ECDSA))

    assert keys.verify(spki(key), raw, message)
    assert not keys.verify(spki(key), raw, message + b"!")
    assert not keys.verify(spki(key_of(secret % (keys.N - 1) + 1)), raw, message)


@given(st.binary(min_size=64, max_size=64))
@settings(max_examples=60, deadline=None)
def test_over_any_64_bytes_we_and_the_judge_agree(raw):
    assert judge(key_of(7), raw, MESSAGE) == keys.verify(spki(key_of(7)), raw, MESSAGE)


@given(st.integers(0, 511))
@settings(max_examples=60, deadline=None)
def test_one_flipped_bit_in_a_signature_is_noticed(bit):
    raw = bytearray(keys.raw_from_der(key_of(7).sign(MESSAGE, ECDSA)))
    raw[bit // 8] ^= 1 << bit % 8

    assert not keys.verify(spki(key_of(7)), bytes(raw), MESSAGE)


@pytest.mark.parametrize("secret", [1, 2, keys.N - 1, keys.N - 2])
def test_keys_at_the_edges_of_the_curve_work(secret):
    """The base point itself and its neighbours meet every special case of adding points."""
    raw = keys.raw_from_der(key_of(secret).sign(MESSAGE, ECDSA))

    assert keys.verify(spki(key_of(secret)), raw, MESSAGE)


@all_cases("r", [0, keys.N, 2**256 - 1])
@all_cases("s", [0, keys.N, 2**256 - 1, 1])
def test_numbers_out_of_range_are_refused(r, s):
    assert not keys.verify(spki(key_of(7)), r.to_bytes(32, "big") + s.to_bytes(32, "big"), MESSAGE)


@pytest.mark.parametrize(
    "bad",
    [
        b"",
        keys.SPKI_PREFIX,
        keys.SPKI_PREFIX + bytes(64),
        keys.SPKI_PREFIX + keys.P.to_bytes(32, "big") + bytes(32),
        spki(key_of(7))[:-1] + bytes([spki(key_of(7))[-1] ^ 1]),
        spki(key_of(7)) + b"\0",
        spki(ec.derive_private_key(7, ec.SECP256K1()))[:91],
    ],
    ids=["nothing", "no point", "zero", "beyond the field", "off the curve", "too long", "another curve"],
)
def test_a_key_that_is_none_is_refused(bad):
    raw = keys.raw_from_der(key_of(7).sign(MESSAGE, ECDSA))

    assert not keys.verify(bad, raw, MESSAGE)
    with pytest.raises(ValueError):
        keys.read_spki(bad)


@pytest.mark.parametrize("text", ["", "AAAA", "A" * 86 + "=" * 2 + "\n", "é" * 88, "-" * 86 + "=="])
def test_a_signature_in_another_form_is_refused(text):
    assert not keys.verify(spki(key_of(7)), text, MESSAGE)


@given(st.integers(1, keys.N - 1), st.integers(1, keys.N - 1))
def test_the_form_openssl_reads_goes_there_and_back(r, s):
    """Outside judge: the DER writer of the package `cryptography`."""
    raw = r.to_bytes(32, "big") + s.to_bytes(32, "big")

    assert encode_dss_signature(r, s) == keys.der_from_raw(raw)
    assert raw == keys.raw_from_der(keys.der_from_raw(raw))


@given(st.binary(max_size=80))
def test_what_is_no_such_signature_is_refused_and_nothing_else_happens(der):
    try:
        raw = keys.raw_from_der(der)
    except ValueError:
        return
    assert keys.der_from_raw(raw) == der


def test_a_key_in_pem_form_goes_there_and_back():
    key = key_of(7)
    pem = key.public_key().public_bytes(serialization.Encoding.PEM, serialization.PublicFormat.SubjectPublicKeyInfo)

    assert pem == keys.pem_from_spki(spki(key))
    assert spki(key) == keys.spki_from_pem(pem)
    with pytest.raises(ValueError):
        keys.spki_from_pem(b"no key")
