"""Canonical JSON bytes (RFC 8785, restricted): the one way an entry, a stamp or a head is written down.

The restriction: numbers are integers within +-(2**53 - 1). Decimals travel as text, so a reading keeps the digits
that were typed and no two languages can disagree about its bytes.
"""

from __future__ import annotations

import hashlib
import json
import json.encoder
import re

from witnessmark.proof.sentences import say

LARGEST = 2**53 - 1
DEEPEST = 64


def _make_encoder():
    """One encoder for the process: json.dumps builds a new one at each call, at a third of an entry's whole cost."""
    parts = json.encoder
    if parts.c_make_encoder is None or parts.c_encode_basestring is None:
        return json.JSONEncoder(ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":")).encode
    # No markers for circles: _check has walked the value before and refuses what nests without end.
    encode = parts.c_make_encoder(None, repr, parts.c_encode_basestring, None, ":", ",", True, False, False)
    return lambda value: "".join(encode(value, 0))


_encode = _make_encoder()
# Python sorts keys by code point, RFC 8785 by UTF-16 code unit. They differ only between U+E000..U+FFFF and beyond.
_order_differs = re.compile("[\ue000-\U0010ffff]").search


def canonical(value: object) -> bytes:
    """The canonical bytes of `value`. Raises ValueError for a float, an integer beyond 2**53 - 1, a key that is
    not text, a lone surrogate, a foreign type, or nesting deeper than 64."""
    if _check(value, 0):
        value = _in_utf16_order(value)
        text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    else:
        text = _encode(value)
    try:
        return text.encode()
    except UnicodeEncodeError as error:
        raise ValueError(say("proof.canonical.surrogate", at=error.start)) from None


def parse(data: bytes) -> object:
    """The value written in `data`. Raises ValueError unless `data` is exactly what `canonical` would write;
    so a doubled key, a space, another order of keys or another way to escape are all refused."""
    try:
        # The short way, for good entries: a doubled key, a float or foreign spelling cannot come out the same again.
        value = json.loads(data)
        if canonical(value) == data:
            return value
    except (ValueError, RecursionError):
        pass
    return _parse_with_reason(data)


def sha256_hex(data: bytes) -> str:
    """SHA-256 as 64 lowercase hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def _parse_with_reason(data: bytes) -> object:
    try:
        value = json.loads(
            data.decode(), parse_float=_no_float, parse_constant=_no_float, object_pairs_hook=_no_doubled_key
        )
    except RecursionError:
        raise ValueError(say("proof.canonical.too_deep", most=DEEPEST)) from None
    except UnicodeDecodeError as error:
        raise ValueError(say("proof.canonical.no_utf8", at=error.start)) from None
    written = canonical(value)
    if written != data:
        shorter = min(len(written), len(data))
        at = next((i for i in range(shorter) if written[i] != data[i]), shorter)
        expected, actual = repr(written[at : at + 20]), repr(data[at : at + 20])
        raise ValueError(say("proof.canonical.differs", at=at, expected=expected, found=actual))
    return value


def _check(value: object, depth: int) -> bool:
    """Refuses what has no canonical form here; returns whether some key needs the UTF-16 order."""
    if depth > DEEPEST:
        raise ValueError(say("proof.canonical.too_deep", most=DEEPEST))
    kind = type(value)
    if kind is dict:
        return _check_object(value, depth)
    if kind is list or kind is tuple:
        special = False
        for item in value:
            if type(item) is not str and _check(item, depth + 1):
                special = True
        return special
    if kind is int:
        if not -LARGEST <= value <= LARGEST:
            raise ValueError(say("proof.canonical.too_large", number=value))
    elif not (isinstance(value, str) or kind is bool or value is None):
        raise ValueError(say("proof.canonical.type", value=repr(value), type=kind.__name__))
    return False


def _check_object(value: dict, depth: int) -> bool:
    # Every entry passes here: the plain values of an object are looked at without another call.
    special = False
    for key, item in value.items():
        if type(key) is not str:
            raise ValueError(say("proof.canonical.key_no_text", key=repr(key)))
        if not key.isascii() and _order_differs(key):
            special = True
        kind = type(item)
        if kind is str or item is None or kind is bool:
            continue
        if kind is int:
            if not -LARGEST <= item <= LARGEST:
                raise ValueError(say("proof.canonical.value_too_large", key=key, number=item))
        elif _check(item, depth + 1):
            special = True
    return special


def _in_utf16_order(value: object) -> object:
    if isinstance(value, dict):
        # surrogatepass: a lone surrogate is refused later, by name, when the whole text is encoded.
        keys = sorted(value, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        return {key: _in_utf16_order(value[key]) for key in keys}
    if isinstance(value, (list, tuple)):
        return [_in_utf16_order(item) for item in value]
    return value


def _no_float(text: str) -> object:
    raise ValueError(say("proof.canonical.no_whole_number", text=text))


def _no_doubled_key(pairs: list) -> dict:
    value = dict(pairs)
    if len(value) != len(pairs):
        keys = [key for key, _ in pairs]
        doubled = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(say("proof.canonical.key_twice", key=repr(doubled)))
    return value
