"""What a browser may do with an answer. Whatever is not a page gets NOTHING_RUNS: it loads, frames and sends nothing,
even if somebody opens its address by hand."""

from __future__ import annotations

from flask import Response

NOTHING_RUNS = "; ".join(
    ("default-src 'none'", "object-src 'none'", "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'")
)
# For the page that stands alone with its own styles: the certificate page.
STYLED_ONLY = NOTHING_RUNS + "; style-src 'unsafe-inline'"
EVERY_ANSWER = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Content-Security-Policy": NOTHING_RUNS,
    "Cross-Origin-Resource-Policy": "same-origin",
}


def put_up(response: Response) -> None:
    """Adds what the answer does not say for itself."""
    for name, value in EVERY_ANSWER.items():
        response.headers.setdefault(name, value)
