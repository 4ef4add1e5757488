"""Values, headers, methods and pieces of bytes that a request may hold wrongly."""

from __future__ import annotations

from typing import Any

COOKIE = "witnessmark_session"  # of a host that is named without a port


DEEP = 3000  # deeper than Python goes


def nested(depth: int) -> Any:
    value: Any = []
    for _ in range(depth):
        value = [value]
    return value


TEXTS = (
    "", " ", "\0", "\n", "é", "\u202eabc", "\ud800", "\U0001f527", "½", "𝟛𝟚", "٣", "0", "-0", "00", "-1", "1e999",
    "1e-999", "NaN", "Infinity", "0x10", "1_000", "1,5", "1 1/0", "1/3", "+.5", "1" * 5000, "0." + "0" * 400 + "1",
    "9" * 40, "null", "true", "[]", "../../etc/passwd", "..", "/", "a/b", "%00", "%s%n{0}", "' OR 1=1 --", '"', "*",
    "(", "NEAR(", '"" OR', "^", "-", ":", "a" * 300, "a" * 70_000, "ß" * 2100, "bore/3", "bore/0", "bore/-1",
    "bore/99999999999999999999", "head_bolt/A/1", "head_bolt/*", "*/*", "_", "0001-01-01", "9999-12-31", "2026-02-30",
    "2026-05-14", "2026-05-14T10:38:07.120+01:00", "0001-01-01T00:00:00.000+14:00", "9999-12-31T23:59:59.999-12:00",
    "2026-05-14T24:00:00.000Z", "2026-05-14T10:38:60.000Z", "00000000-0000-0000-0000-000000000000",
    "ffffffff-ffff-ffff-ffff-ffffffffffff", "{00000000-0000-4000-8000-000000000007}", "mm", "N·m", "°", "in", "µm",
    "M10", "10.9", "own_x", "job:", "workshop", "measured", "intake", "manager", "0" * 64, "Ida", "__proto__",
    "constructor", "self", "class",
)  # fmt: skip
NUMBERS = (
    0, -1, 1, 2, 7, 255, 2**31, -(2**31), 2**53 - 1, 2**53, 2**63 - 1, 2**63, 2**64, -(2**63) - 1, 10**30, 10**400,
    0.5, -0.0, 1.0, 1e308, 5e-324, float("nan"), float("inf"),
)  # fmt: skip
OTHERS = (
    None, True, False, [], {}, [[]], [None], {"": None}, {"a": {"b": {"c": []}}}, nested(60), ["x"] * 3000, [{}] * 50,
)  # fmt: skip
HEADERS: dict[str, tuple[str | None, ...]] = {
    "Content-Type": (
        None, "", "text/plain", "application/json; charset=utf-16", "application/json; charset=none",
        "application/xml", "multipart/form-data", "multipart/form-data; boundary=x",
        "application/x-www-form-urlencoded", "application/JSON", "application/vnd.api+json",
        "application/offset+octet-stream", "application/json;" + "x" * 9000, "\xff\xfe", "a/b/c", ";", "json",
    ),
    "Content-Length": (
        None, "", "0", "1", "-1", "abc", "99999999999999999999", "1e3", "٣", "+5", "5 5", " 7",
    ),
    "Accept": (
        "", "*/*", "text/html", "application/json;q=0", "x" * 9000, ";;;", "\xff",
    ),
    "Accept-Encoding": (
        "", "gzip", "br;q=0", "*", "gzip;q=nan", "x" * 5000,
    ),
    "Accept-Language": (
        "", "de", "\xff", "en;q=2", "," * 500,
    ),
    "Authorization": (
        "", "Bearer", "Bearer ", "Bearer \xff", "bearer x", "Basic Og==", "Basic \xff", "Digest a=b",
        "Bearer " + "a" * 9000, "Bearer a b", "\0",
    ),
    "Cookie": (
        "", "=", ";", COOKIE, f"{COOKIE}=", f"{COOKIE}=\xff", f"{COOKIE}=" + "a" * 9000, f"{COOKIE}=a; {COOKIE}=b",
        '"', f'{COOKIE}="\\303"',
    ),
    "X-Witnessmark": (
        None, "", "Office", "office ", "\xff", "office,office",
    ),
    "Tus-Resumable": (
        None, "", "0.2.2", "1.0.0 ", "1.0.0, 1.0.0", "\xff",
    ),
    "Upload-Length": (
        None, "", "0", "-1", "1", "999999999999", "9999999999999", "1e3", "٣", "0x10", "+1", "1 1",
    ),
    "Upload-Offset": (
        None, "", "0", "-1", "1", "22", "9" * 30, "9" * 5000, "٣", "1.0", "²",
    ),
    "Upload-Metadata": (
        None, "", ",", "sha256", "sha256 ", "sha256 !!!!", "sha256 /w==", "sha256 YQ==", "sha256  YQ==",
        "sha256 YQ==,sha256 Yg==", "a b c", "name \xff", "sha256 " + "A" * 9000, " ,sha256 YQ", "filename 8J+Upw==",
    ),
    "Upload-Checksum": (
        "", "sha1", "sha1 ", "sha256 !!!!", "md5 YQ==", "sha256 YQ==", "SHA256 YQ==", "\xff \xff", "crc32 AAAAAA==",
        "sha256",
    ),
    "Upload-Defer-Length": (
        "1", "0", "",
    ),
    "Upload-Concat": (
        "partial", "final;/a",
    ),
    "Range": (
        "bytes=0-0", "bytes=0-", "bytes=-1", "bytes=-0", "bytes=5-1", "bytes=0-0,2-3", "bytes=99999999999999999999-",
        "bytes=a-b", "bytes=", "items=0-1", "bytes=0-0," * 500, "bytes", "=", "bytes=٣-٤", "bytes=--1",
        "bytes= 0 - 1", "bytes=1-" + "9" * 5000,
    ),
    "If-Range": (
        "", '"x"', "Thu, 01 Jan 1970 00:00:00 GMT", "W/", "\xff", "Thu, 99 Foo 0000",
    ),
    "If-None-Match": (
        "", "*", '"x"', 'W/"', "\xff", '"' * 99, "a" * 9000,
    ),
    "If-Match": (
        "", "*", '"x"', "\xff",
    ),
    "If-Modified-Since": (
        "", "Thu, 01 Jan 1970 00:00:00 GMT", "yesterday", "Thu, 99 Foo 99999", "Thu, 01 Jan 9999 99:99:99 GMT",
        "\xff",
    ),
    "If-Unmodified-Since": (
        "", "Thu, 01 Jan 1970 00:00:00 GMT", "x",
    ),
    "Host": (
        None, "", "a b", "[::1", "x:99999999", "\xff", "evil.example", "a" * 3000, "127.0.0.1:80:80", "::",
    ),
    "Transfer-Encoding": (
        "chunked", "gzip", "\xff",
    ),
    "Content-Encoding": (
        "gzip", "br", "x",
    ),
    "Expect": (
        "100-continue", "x",
    ),
    "Origin": (
        "null", "http://evil.example",
    ),
    "X-Forwarded-For": (
        "::1", "\xff", "a" * 999,
    ),
    "X-HTTP-Method-Override": (
        "DELETE", "PATCH", "x",
    ),
    "Referer": (
        "\xff", "a" * 9000,
    ),
    "User-Agent": (
        "", "\xff", "a" * 9000,
    ),
    "Date": (
        "x",
    ),
}  # fmt: skip
METHODS = (
    "GET", "POST", "PUT", "PATCH", "DELETE", "HEAD", "OPTIONS", "TRACE", "CONNECT", "PROPFIND", "get", "\xff", "",
    "A" * 500,
)  # fmt: skip
PIECES = (
    b"", b"\0", b"{", b"[", b'"', b"\xff\xfe", b"\xef\xbb\xbf", b"NaN", b"1e9999", b"-", b",", b"\\ud800",
    b'"\\u0000"', b"}" * 3, b"9" * 5000,
)  # fmt: skip
QUERY = (
    "q", "after", "before", "limit", "around", "place", "kind", "person", "stage", "from", "to", "job", "feed", "upto",
    "related", "state", "download", "name", "zz",
)  # fmt: skip
QUERIES = (
    "&&&", "=", "%", "%zz=%", "a" * 9000, "limit=1&limit=2", "q=%ff%fe", "q=\xff", ";", "limit[]=1",
)  # fmt: skip
