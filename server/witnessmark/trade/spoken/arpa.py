"""An n-gram language model from sentences, in the ARPA form that decoders of speech read.

Smoothing is Witten-Bell, interpolated (I. H. Witten, T. C. Bell, "The zero-frequency problem", IEEE Transactions on
Information Theory 37(4), 1991; the interpolated form as in S. F. Chen, J. Goodman, TR-10-98, Harvard, 1998; both from
memory): with N words counted behind a history and T different ones,

    p(w | history) = (count(history w) + T p(w | shorter history)) / (N + T)

A word never seen behind the history keeps T / (N + T) of its shorter probability, which is the back-off weight, so the
words behind every history share exactly one. The shortest history of all shares T among all words alike.
Kneser-Ney is left aside: it leans on how many things were counted once, and counts of made sentences say nothing there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from math import log10

BEGIN, END = "<s>", "</s>"
# What the forms of ARPA write for "never": the beginning of a sentence is no word that anybody says.
_NEVER = "-99.0000"
_Gram = tuple[str, ...]


def model(sentences: Iterable[str], order: int = 3) -> str:
    """The language model as ARPA text: logarithms to base ten, `order` words at most in a gram.

    A sentence is its words with spaces between; empty ones count for nothing. Raises ValueError without any word.
    """
    if order < 1:
        raise ValueError("The order of a language model is 1 or more words.")
    stream = f" {END} {BEGIN} ".join(sentence for sentence in sentences if sentence.strip())
    if not stream:
        raise ValueError("A language model needs at least one sentence; none was given.")
    tokens = [BEGIN, *stream.split(), END]
    counts = [_count(tokens, length) for length in range(1, order + 1)]
    probabilities, weights = _smoothed(counts)
    return "\n".join(_lines(probabilities, weights)) + "\n"


def _count(tokens: list[str], length: int) -> Counter[_Gram]:
    """How often each run of `length` words occurs; none reaches from one sentence into the next."""
    counted = Counter(zip(*(tokens[at:] for at in range(length)), strict=False))
    if length == 1:
        del counted[(BEGIN,)]
        return counted
    # Between sentences stand an end and a beginning: whoever crosses has an end before its last word.
    return Counter({gram: n for gram, n in counted.items() if END not in gram[:-1] and BEGIN not in gram[1:]})


def _smoothed(counts: list[Counter[_Gram]]) -> tuple[list[dict[_Gram, float]], dict[_Gram, float]]:
    """Probability of each gram by length, and the back-off weight of each history."""
    orders: list[dict[_Gram, float]] = []
    weights: dict[_Gram, float] = {}
    for counted in counts:
        behind: Counter[_Gram] = Counter()
        different: Counter[_Gram] = Counter()
        for gram, n in counted.items():
            behind[gram[:-1]] += n
            different[gram[:-1]] += 1
        if orders:
            shorter = orders[-1]
            weights |= {history: different[history] / (n + different[history]) for history, n in behind.items()}
        else:
            shorter = dict.fromkeys(((), *((gram[1:]) for gram in counted)), 1 / len(counted))
        orders.append(
            {
                gram: (n + different[gram[:-1]] * shorter[gram[1:]]) / (behind[gram[:-1]] + different[gram[:-1]])
                for gram, n in counted.items()
            }
        )
    return orders, weights


def _lines(probabilities: list[dict[_Gram, float]], weights: dict[_Gram, float]) -> list[str]:
    # The beginning of a sentence is listed with the words, for it is a history like them.
    sections = [[(gram, f"{log10(p):.6f}") for gram, p in sorted(grams.items())] for grams in probabilities]
    sections[0].insert(0, ((BEGIN,), _NEVER))
    lines = ["\\data\\", *(f"ngram {n}={len(grams)}" for n, grams in enumerate(sections, 1))]
    for n, grams in enumerate(sections, 1):
        lines += ["", f"\\{n}-grams:"]
        for gram, p in grams:
            weight = weights.get(gram)
            tail = "" if n == len(sections) else f"\t{log10(weight):.6f}" if weight is not None else "\t0.000000"
            lines.append(f"{p}\t{' '.join(gram)}{tail}")
    return [*lines, "", "\\end\\"]
