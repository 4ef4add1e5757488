"""Requests with something wrong in them: a good one is taken and changed in one to three places, by chance from a seed.

What is wrong: values of another type, huge, empty, deep or half a character; fields that are missing or unknown; bytes
that are no JSON; headers, types of content, lengths, ranges and cookies that nobody sends; parameters of the path that
are no identifiers; other methods; nobody signed in, or somebody who may not.
"""

from __future__ import annotations

import json
from copy import deepcopy
from dataclasses import replace
from random import Random
from typing import Any

from tests.fuzz.asking import Request, in_path, in_query
from tests.fuzz.odd_values import COOKIE, DEEP, HEADERS, METHODS, NUMBERS, OTHERS, PIECES, QUERIES, QUERY, TEXTS
from tests.fuzz.samples import PARAMETER
from tests.fuzz.workshop import Filled


def odd(good: Request, filled: Filled, random: Random) -> Request:
    """The good request with one to three things changed in it."""
    made = replace(good, headers=dict(good.headers), address=f"192.0.2.{random.randrange(1, 255)}")
    ways = [_header, _query, _query] + [_path] * ("{" in made.label)
    ways += [_bytes] + [_value] * 8 if made.body else []
    for _ in range(random.choice((1, 1, 1, 2, 3))):
        made = random.choice(ways)(made, filled, random)
    if random.random() < 0.04:
        made = random.choice((_method, _nobody, _beside))(made, filled, random)
    return made


def changed(value: Any, filled: Filled, random: Random) -> Any:
    """A copy of a JSON value with one place in it changed: another value, gone, added, twice, or moved."""
    value = deepcopy(value)
    places = list(_places(value))
    if not places:
        return _any(filled, random)
    parent, key = random.choice(places)
    way = random.random()
    if way < 0.72:
        parent[key] = _like(parent[key], filled, random)
    elif way < 0.82:
        del parent[key]
    elif way < 0.9 and isinstance(parent, dict):
        parent[random.choice(TEXTS)[:200]] = _any(filled, random)
    elif isinstance(parent, list):
        parent.extend(deepcopy(parent[key]) for _ in range(random.choice((1, 2, 40))))
    else:
        other, name = random.choice(places)
        parent[key] = deepcopy(other[name])
    return value


def _places(value: Any):
    """Every (container, key) of a JSON value."""
    if isinstance(value, dict | list):
        for key in value if isinstance(value, dict) else range(len(value)):
            yield value, key
            yield from _places(value[key])


def _any(filled: Filled, random: Random) -> Any:
    way = random.random()
    if way < 0.45:
        return random.choice(TEXTS)
    if way < 0.65:
        return random.choice(NUMBERS)
    if way < 0.85:
        return deepcopy(random.choice(OTHERS))
    return random.choice(filled.known[random.choice(list(filled.known))])


def _like(value: Any, filled: Filled, random: Random) -> Any:
    """Often of the same type, so that it comes past the first check and is met further in."""
    if random.random() < 0.4:
        return _any(filled, random)
    if isinstance(value, str):
        if value and random.random() < 0.4:
            at = random.randrange(len(value))
            return value[:at] + random.choice(TEXTS)[:40] + value[at + random.randrange(2) :]
        return random.choice(TEXTS)
    if isinstance(value, bool) or value is None:
        return random.choice((True, False, None))
    if isinstance(value, int | float):
        return random.choice((*NUMBERS, value + 1, -value))
    return deepcopy(random.choice(OTHERS))


def _value(request: Request, filled: Filled, random: Random) -> Request:
    try:
        value = json.loads(request.body)
    except (ValueError, RecursionError):
        return _bytes(request, filled, random)
    value = _any(filled, random) if random.random() < 0.05 else changed(value, filled, random)
    return replace(request, body=json.dumps(value).encode(), entry_hash="")


def _bytes(request: Request, filled: Filled, random: Random) -> Request:
    """The body as bytes: cut short, with something put in, in another coding, with a name twice, or far too deep."""
    body, at = request.body, random.randrange(len(request.body) + 1)
    made = random.choice(
        (
            body[:at],
            body[:at] + random.choice(PIECES) + body[at:],
            body[:at] + bytes([random.randrange(256)]) + body[at + 1 :],
            body.decode("latin-1").encode("utf-16"),
            b"\xef\xbb\xbf" + body,
            b'{"job":null,' + body[1:],
            b"[" * DEEP + b"]" * DEEP,
            b'{"a":' * DEEP + b"1" + b"}" * DEEP,
            body[:1] + b" " * 50_000 + body[1:],
        )
    )
    return replace(request, body=made, entry_hash="")


def _header(request: Request, filled: Filled, random: Random) -> Request:
    name = random.choice(list(HEADERS))
    return replace(request, headers=request.headers | {name: random.choice(HEADERS[name])})


def _path(request: Request, filled: Filled, random: Random) -> Request:
    """One parameter of the path is no identifier, or one of something else."""
    template = request.label.split(" ")[1]
    wrong = random.choice(PARAMETER.findall(template))

    def value(match) -> str:
        if match[1] != wrong:
            return random.choice(filled.known.get(match[1], ["x"]))
        return random.choice((*TEXTS, *sum(filled.known.values(), [])))[:4000]

    made = in_path(PARAMETER.sub(value, template))
    return replace(request, path=made, described=made.count("/") == template.count("/"))


def _query(request: Request, filled: Filled, random: Random) -> Request:
    names = [pair.split("=")[0] for pair in request.query.split("&") if pair]
    names += [*QUERY, ""]
    value = random.choice((*TEXTS, *map(str, NUMBERS[:16]), *sum(filled.known.values(), [])))[:9000]
    more = in_query([(random.choice(names), value)])
    if random.random() < 0.1:
        more = random.choice(QUERIES)
    kept = [pair for pair in request.query.split("&") if pair and random.random() < 0.8]
    return replace(request, query="&".join([*kept, more]))


def _method(request: Request, filled: Filled, random: Random) -> Request:
    return replace(request, method=random.choice(METHODS))


def _nobody(request: Request, filled: Filled, random: Random) -> Request:
    """Nobody, or somebody else: a technician where a manager is needed, a phone in the office."""
    headers = {name: value for name, value in request.headers.items() if name not in ("Cookie", "Authorization")}
    technician, phone = f"{COOKIE}={filled.technician}", f"Bearer {filled.phone.token}"
    return replace(request, headers=headers | random.choice(({}, {"Cookie": technician}, {"Authorization": phone})))


def _beside(request: Request, filled: Filled, random: Random) -> Request:
    """An address near one that there is."""
    at = random.randrange(1, len(request.path))
    end = random.choice(("", "/", "//", "/..", "%00", "\xff", "\0", "/x", ".json", "/" + "a" * 3000))
    paths = request.path[:at] + end, request.path + end, request.path[:at] + end + request.path[at:]
    return replace(request, path=random.choice(paths), described=False)
