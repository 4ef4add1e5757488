"""How passwords, PINs, tokens and codes are stored: only as hashes.

Passwords: scrypt (RFC 7914), a salt for each. PINs: PBKDF2-HMAC-SHA256 (RFC 8018), because a phone must be able to
check one without a network and its browser offers that and not scrypt. Tokens and codes are long and random, so
plain SHA-256 keeps them.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import json
import secrets

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say
from witnessmark.trade.ground.tables import table

SCRYPT = {"n": 2**15, "r": 8, "p": 1}
SCRYPT_MEMORY = 64 * 1024 * 1024
PIN_ITERATIONS = 600_000
PIN_DIGITS: dict[str, dict[str, int]] = table("pins")["digits"]

# No 0 O, 1 I L, 5 S, 8 B, U V: read aloud across a workshop, or typed with cold fingers.
CODE_LETTERS = "234679ACDEFGHJKMNPQRTWXYZ"
CODE_LENGTH = 8


def hash_password(password: str) -> str:
    """What is stored of a password: parameters, salt and hash as JSON. `passwords` says which may be set."""
    salt = secrets.token_bytes(16)
    return json.dumps({**SCRYPT, "salt": _text(salt), "hash": _text(_scrypt(password, salt, SCRYPT))})


def password_is_right(stored: str | None, password: str) -> bool:
    """Takes as long for a person without a password as for one with: who is asking learns nothing from the time."""
    facts = json.loads(stored) if stored else {**SCRYPT, "salt": _text(b"\0" * 16), "hash": _text(b"\0" * 32)}
    computed = _scrypt(password, base64.b64decode(facts["salt"]), {name: facts[name] for name in SCRYPT})
    return hmac.compare_digest(computed, base64.b64decode(facts["hash"])) and stored is not None


def pin_verifier(pin: str, role: str) -> str:
    """What phones are given of a PIN: `{"salt","iterations","hash"}`, base64. Raises Refusal for one that is poor for
    a person of this role."""
    least, most = PIN_DIGITS[role]["least"], PIN_DIGITS[role]["most"]
    if not (pin.isascii() and pin.isdigit() and least <= len(pin) <= most):
        raise Refusal("pin", "pin", say("server.people.bad_pin", least=least, most=most))
    salt = secrets.token_bytes(16)
    computed = hashlib.pbkdf2_hmac("sha256", pin.encode(), salt, PIN_ITERATIONS)
    return json.dumps({"salt": _text(salt), "iterations": PIN_ITERATIONS, "hash": _text(computed)})


def new_token() -> str:
    return secrets.token_urlsafe(32)


def keep_token(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def new_code() -> str:
    """A one-time code to read aloud, like `K7M4-QX2P`: 37 bits."""
    letters = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
    return f"{letters[:4]}-{letters[4:]}"


def keep_code(code: str) -> str:
    """The hash a code is found by, however it was typed."""
    return keep_token("".join(c for c in code.upper() if c.isalnum()))


def _scrypt(password: str, salt: bytes, cost: dict) -> bytes:
    return hashlib.scrypt(password.encode(), salt=salt, maxmem=SCRYPT_MEMORY, dklen=32, **cost)


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode()
