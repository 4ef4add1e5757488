"""Checks signatures made with ECDSA P-256 and SHA-256 (FIPS 186-5), in plain Python, so that a pack can be checked
on a machine with nothing but Python.

Only public values pass through here, so nothing is lost by not running in constant time. Making keys and signatures
is not this room's work.
"""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache

from witnessmark.proof.sentences import say

P = 2**256 - 2**224 + 2**192 + 2**96 - 1
N = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
B = 0x5AC635D8AA3A93E7B3EBBD55769886BC651D06B0CC53B0F63BCE3C3E27D2604B
G = (
    0x6B17D1F2E12C4247F8BCE6E563A440F277037D812DEB33A0F4A13945D898C296,
    0x4FE342E2FE1A7F9B8EE7EB4A7C0F9E162BCE33576B315ECECBB6406837BF51F5,
)

# SubjectPublicKeyInfo (RFC 5480) of an uncompressed P-256 point: always these bytes, then X and Y.
SPKI_PREFIX = bytes.fromhex("3059301306072a8648ce3d020106082a8648ce3d03010703420004")
SIGNATURE_LENGTH = 64


def verify(spki_der: bytes, signature: str | bytes, message: bytes) -> bool:
    """Whether `signature` (r and s, 32 bytes each; raw or in standard base64) over `message` was made with the key
    in `spki_der`. False, never an error, for a malformed key, a point off the curve, or r, s out of range."""
    try:
        raw = signature if isinstance(signature, bytes) and len(signature) == SIGNATURE_LENGTH else unbase64(signature)
        table = _table_of(read_spki(spki_der))
    except ValueError:
        return False
    if len(raw) != SIGNATURE_LENGTH:
        return False
    r, s = int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big")
    if not (0 < r < N and 0 < s < N):
        return False
    z = int.from_bytes(hashlib.sha256(message).digest(), "big")
    w = pow(s, -1, N)
    x, _, zed = _two_products(z * w % N, r * w % N, table)
    if not zed:
        return False
    # x / zed**2 mod N == r, without a division: the affine x may exceed N once, since P > N.
    square = zed * zed % P
    return (r * square - x) % P == 0 or (r + N < P and ((r + N) * square - x) % P == 0)


def read_spki(spki_der: bytes) -> tuple[int, int]:
    """The point in a P-256 SubjectPublicKeyInfo. Raises ValueError if it is none or lies off the curve."""
    if len(spki_der) != 91 or not spki_der.startswith(SPKI_PREFIX):
        raise ValueError(say("proof.key.no_point"))
    x, y = int.from_bytes(spki_der[27:59], "big"), int.from_bytes(spki_der[59:], "big")
    if x >= P or y >= P or (y * y - (x * x * x - 3 * x + B)) % P:
        raise ValueError(say("proof.key.off_curve"))
    return x, y


def server_id(spki_der: bytes) -> str:
    """The key fingerprint that a server is known by: the first 32 hexadecimal digits of SHA-256 over its public key."""
    return hashlib.sha256(spki_der).hexdigest()[:32]


def unbase64(text: str | bytes) -> bytes:
    """Strict standard base64 with padding. Raises ValueError for anything else, also for stray bits at the end."""
    written = text.encode("ascii") if isinstance(text, str) else text
    raw = base64.b64decode(written, validate=True)
    if base64.b64encode(raw) != written:
        raise ValueError(say("proof.key.no_base64"))
    return raw


def der_from_raw(raw: bytes) -> bytes:
    """The DER form of a raw r, s signature, as openssl reads it."""
    if len(raw) != SIGNATURE_LENGTH:
        raise ValueError(f"a signature has {SIGNATURE_LENGTH} bytes, not {len(raw)}")
    body = _der_integer(raw[:32]) + _der_integer(raw[32:])
    return b"\x30" + bytes([len(body)]) + body


def raw_from_der(der: bytes) -> bytes:
    """The raw r, s form of a DER signature. Raises ValueError unless it is the one DER form of two such numbers."""
    try:
        length_r = der[3]
        r, s = der[4 : 4 + length_r], der[6 + length_r :]
        raw = int.from_bytes(r, "big").to_bytes(32, "big") + int.from_bytes(s, "big").to_bytes(32, "big")
        if der_from_raw(raw) == der:
            return raw
    except (IndexError, OverflowError):
        pass
    raise ValueError(say("proof.key.no_der"))


def spki_from_pem(pem: bytes) -> bytes:
    """The DER bytes inside a PEM public key. Raises ValueError if there is none."""
    lines = pem.decode("ascii").split("\n")
    try:
        start, end = lines.index("-----BEGIN PUBLIC KEY-----"), lines.index("-----END PUBLIC KEY-----")
    except ValueError:
        raise ValueError(say("proof.key.no_pem")) from None
    return unbase64("".join(lines[start + 1 : end]))


def pem_from_spki(spki_der: bytes) -> bytes:
    """A public key in PEM form, as openssl reads it."""
    text = base64.b64encode(spki_der).decode("ascii")
    lines = [text[i : i + 64] for i in range(0, len(text), 64)]
    return "\n".join(["-----BEGIN PUBLIC KEY-----", *lines, "-----END PUBLIC KEY-----", ""]).encode("ascii")


def _der_integer(number: bytes) -> bytes:
    short = number.lstrip(b"\x00") or b"\x00"
    if short[0] & 0x80:
        short = b"\x00" + short
    return b"\x02" + bytes([len(short)]) + short


# --- The curve. Points are Jacobian (X, Y, Z), standing for x = X/Z**2, y = Y/Z**3; Z = 0 is the point at infinity.


def _double(x: int, y: int, z: int) -> tuple[int, int, int]:
    if not z or not y:
        return 1, 1, 0
    zz = z * z % P
    yy = y * y % P
    beta = x * yy % P
    alpha = 3 * (x - zz) * (x + zz) % P
    x3 = (alpha * alpha - 8 * beta) % P
    return x3, (alpha * (4 * beta - x3) - 8 * yy * yy) % P, 2 * y * z % P


def _add_affine(x1: int, y1: int, z1: int, x2: int, y2: int) -> tuple[int, int, int]:
    if not z1:
        return x2, y2, 1
    zz = z1 * z1 % P
    h = (x2 * zz - x1) % P
    r = (y2 * zz * z1 - y1) % P
    if not h:
        return _double(x1, y1, z1) if not r else (1, 1, 0)
    hh = h * h % P
    hhh = h * hh % P
    v = x1 * hh % P
    x3 = (r * r - hhh - 2 * v) % P
    return x3, (r * (v - x3) - y1 * hhh) % P, z1 * h % P


@lru_cache(maxsize=64)
def _table_of(point: tuple[int, int]) -> list[tuple[tuple[int, int], ...]]:
    """For each of the 64 places of a scalar written in hexadecimal, the 15 multiples of `point` for its digit.

    With this a product is 64 additions and no doubling; one key signs many entries, so the table pays at once.
    """
    jacobian = []
    x, y = point
    base = (x, y, 1)
    for _ in range(64):
        bx, by = _affine([base])[0]
        step = (bx, by, 1)
        for _ in range(15):
            jacobian.append(step)
            step = _add_affine(*step, bx, by)
        base = step
    flat = _affine(jacobian)
    return [tuple(flat[i : i + 15]) for i in range(0, len(flat), 15)]


def _affine(points: list[tuple[int, int, int]]) -> list[tuple[int, int]]:
    """Affine forms of points other than infinity, with one inversion for all."""
    running, products = 1, []
    for _, _, z in points:
        products.append(running)
        running = running * z % P
    inverse = pow(running, -1, P)
    affine = []
    for (x, y, z), before in zip(reversed(points), reversed(products)):  # noqa: B905 - Python 3.9 knows no strict=
        own = inverse * before % P
        inverse = inverse * z % P
        square = own * own % P
        affine.append((x * square % P, y * square * own % P))
    return affine[::-1]


def _two_products(u: int, v: int, table: list[tuple[tuple[int, int], ...]]) -> tuple[int, int, int]:
    """u * G + v * Q, where `table` belongs to Q."""
    x, y, z = 1, 1, 0
    for scalar, rows in ((u, _table_of(G)), (v, table)):
        for row in rows:
            digit = scalar & 15
            scalar >>= 4
            if digit:
                x, y, z = _add_affine(x, y, z, *row[digit - 1])
    return x, y, z
