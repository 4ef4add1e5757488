"""Which passwords may be set: long ones of any signs, but none that is made of what is guessed first.

Length is the only rule on how a password looks. What is guessed first is cut out of it: common words, words of this
trade and program, the person's own name, keys that lie in a row, years. What is left has to be long enough to have been
thought of by somebody. No list of stolen passwords is asked: there is none on the machine, and asking somebody else
would need a network.
"""

from __future__ import annotations

import re

from witnessmark.trade.ground.errors import Refusal
from witnessmark.trade.ground.sentences import say

SHORTEST = 12
LEAST_LEFT = 5  # letters and digits that have to be left once everything easily guessed is cut out
LEAST_PART = 3  # of a name; shorter parts of one stand in too many words
LEAST_RUN = 4  # keys in a row

# Words of this program, trade and role: V6.1.2 of the OWASP ASVS asks for the list to be written down.
OWN_WORDS = (
    "witnessmark", "workshop", "garage", "engine", "rebuild", "teardown", "bench", "bay", "office", "desk", "manager",
    "technician", "mechanic", "server", "phone", "motor",
)  # fmt: skip
COMMON_WORDS = (
    "password", "passwort", "passphrase", "passcode", "passwd", "pass", "secret", "letmein", "welcome", "hello",
    "login", "signin", "admin", "administrator", "root", "user", "guest", "test", "default", "changeme", "change",
    "master",
    "superman", "batman", "dragon", "monkey", "football", "baseball", "liverpool", "arsenal", "chelsea", "charlie",
    "sunshine", "princess", "shadow", "iloveyou", "ilove", "love", "trustno", "whatever", "freedom", "computer",
    "internet", "google", "spring", "summer", "autumn", "winter", "january", "february", "march", "april", "june",
    "july", "august", "september", "october", "november", "december", "monday", "friday", "mustang", "ferrari",
    "porsche", "mercedes", "harley", "yamaha", "honda", "correcthorsebatterystaple", "temp", "company", "please",
    "open", "the", "and", "for", "our", "my", "you",
)  # fmt: skip
ROWS = (
    "abcdefghijklmnopqrstuvwxyz", "01234567890", "qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop", "azertyuiop",
    "1qaz2wsx3edc4rfv5tgb6yhn7ujm", "1q2w3e4r5t6y7u8i9o0p", "qazwsxedcrfvtgbyhnujm",
)  # fmt: skip
_SIGNS_FOR_LETTERS = str.maketrans("013457@$!", "oieastasi")
_YEAR = re.compile(r"(19|20)\d\d")


def check(password: str, *names: str) -> None:
    """Raises Refusal for a password that is too short, or that the person's `names` and other easy guesses make up."""
    if len(password) < SHORTEST:
        raise Refusal("password_short", "password", say("server.people.password_short", least=SHORTEST))
    plain = "".join(c for c in password.casefold() if c.isalnum() or c in "@$!")
    own = tuple(part for name in names for part in re.findall(r"\w+", name.casefold()) if len(part) >= LEAST_PART)
    if min(_left(plain, own), _left(plain.translate(_SIGNS_FOR_LETTERS), own)) < LEAST_LEFT:
        raise Refusal("password_easy", "password", say("server.people.password_easy"))


def _left(text: str, own: tuple[str, ...]) -> int:
    """How many letters and digits are left of it, each counted once, so that `abababab` comes to two."""
    text = _YEAR.sub(" ", _without_rows(text))
    for word in sorted((*own, *OWN_WORDS, *COMMON_WORDS), key=len, reverse=True):
        text = text.replace(word, " ")
    return len({c for c in text if c.isalnum()})


def _without_rows(text: str) -> str:
    at, kept = 0, []
    while at < len(text):
        length = _row_at(text, at)
        kept.append(" " if length else text[at])
        at += length or 1
    return "".join(kept)


def _row_at(text: str, at: int) -> int:
    """How many signs from here lie in a row, one way or the other; 0 for fewer than LEAST_RUN."""
    longest = 0
    for row in ROWS:
        for way in (row, row[::-1]):
            length = 0
            while at + length < len(text) and text[at : at + length + 1] in way:
                length += 1
            longest = max(longest, length)
    return longest if longest >= LEAST_RUN else 0
