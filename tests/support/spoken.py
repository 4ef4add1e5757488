"""What speech needs in server tests: a result of a recogniser as it stands in an entry. All invented."""

from __future__ import annotations


def a_result(engine: str = "sphinx_ngram", text: str = "bore three eighty nine point oh three mm", **changes) -> dict:
    """What one recogniser heard, each word a third of a second long."""
    words = [[word, 330 * number, 330 * number + 300, 80] for number, word in enumerate(text.split())]
    return {
        "engine": engine,
        "version": "5.1.1",
        "model": "en-us",
        "model_sha256": "11" * 32,
        "sort": "closed",
        "denoised": True,
        "vocabulary": "22" * 32,
        "text": text,
        "confidence": 80 if text else 0,
        "words": words,
    } | changes
