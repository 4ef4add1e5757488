"""What can be said about one sound, for all recognisers: made from the one vocabulary table and the workshop's words.

Never from a limit, a nominal size or what was recorded: that would make a recogniser hear what is expected. Belongs
into the hearing process, since a language model is large while it is made.
"""

from __future__ import annotations

import json
from functools import lru_cache

from witnessmark.speech.recogniser import Lexicon
from witnessmark.trade.spoken import arpa
from witnessmark.trade.spoken import corpus as spoken_corpus
from witnessmark.trade.spoken import grammar as spoken_grammar

SENTENCES = 40_000  # from which the language model learns what follows what
SEED = 1
ANYTHING = {"sort": "any", "place": "", "point": "", "procedure": "", "reading": "", "quantity": "", "units": []}


def lexicon(about: dict) -> Lexicon:
    """For {"screen": Screen, "engine_type": dict or None, "own": [OwnWord, ...]}, each of which may be left out."""
    engine_type, own = about.get("engine_type"), about.get("own") or []
    engine, words = _key(engine_type), _key(own)
    jsgf, more = _grammar(_key(about.get("screen") or ANYTHING), engine, words)

    def dictionary() -> str:
        lines = dict.fromkeys(_vocabulary(engine, words)[1].splitlines()) | dict.fromkeys(more.splitlines())
        return "\n".join(lines)

    return Lexicon(
        jsgf,
        lambda: _vocabulary(engine, words)[0],
        dictionary,
        spoken_corpus.prompt(engine_type, own),
        spoken_corpus.vocabulary_hash(own),
        tuple(own),
    )


@lru_cache(maxsize=4)
def _vocabulary(engine: str, own: str) -> tuple[str, str]:
    """Language model and dictionary."""
    engine_type, words = json.loads(engine), json.loads(own)
    sentences = list(spoken_corpus.sentences(engine_type, words, SENTENCES, SEED))
    known = sorted({word for sentence in sentences for word in sentence.split()})
    return arpa.model(sentences), spoken_grammar.dictionary(known, words)


@lru_cache(maxsize=32)
def _grammar(screen: str, engine: str, own: str) -> tuple[str, str]:
    words = json.loads(own)
    made = spoken_grammar.grammar(json.loads(screen), json.loads(engine), words)
    return made, spoken_grammar.dictionary(spoken_grammar.words_of(made), words)


def _key(value) -> str:
    return json.dumps(value, sort_keys=True)
