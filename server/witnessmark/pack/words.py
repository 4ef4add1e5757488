"""What a pack says about itself, in the same words in the PDF, on the page and in READ-ME-FIRST."""

from __future__ import annotations

from witnessmark.proof import layout
from witnessmark.trade.engine.stages import ALWAYS
from witnessmark.trade.ground.sentences import say

SORT_TITLE = {layout.SEALED: say("pack.sealed"), layout.CUSTOMER: say("pack.for_customer")}
SORT_WORDS = {
    layout.SEALED: say("pack.sealed_means"),
    layout.CUSTOMER: say("pack.customer_means"),
}

TIMES = [
    ("claimed", say("pack.phone_time")),
    ("received", say("pack.server_time")),
    ("attested", say("pack.independent_time")),
]

SHOWS = [
    say("pack.shows.signed"),
    say("pack.shows.log"),
    say("pack.shows.order"),
    say("pack.shows.media"),
    say("pack.shows.corrections"),
]
DOES_NOT_SHOW = [
    say("pack.not_shown.part"),
    say("pack.not_shown.clock"),
    say("pack.not_shown.complete"),
    say("pack.not_shown.transcript"),
    say("pack.not_shown.before"),
    say("pack.not_shown.who"),
    say("pack.not_shown.server"),
]
NO_CERTIFICATE = say("pack.no_certificate")
STANDING = {
    "within": say("pack.within"),
    "outside": say("pack.outside"),
    "not proven": say("pack.not_proven"),
    "no limit": say("pack.no_limit"),
}
RULES = {"guarded": say("pack.guarded"), "guarded_95": say("pack.guarded_95"), "simple": say("pack.simple")}
FIGURES = say("pack.figures.means")
STANDINGS = [
    (say("pack.within"), "outlined", say("pack.within_means")),
    (say("pack.outside"), "solid", say("pack.outside_means")),
    (say("pack.not_proven"), "hatched", say("pack.not_proven_means")),
    (say("pack.no_limit"), "plain", say("pack.no_limit_means")),
]
FIGURES_UNCERTAIN = say("pack.figures.uncertainty")
BUDGETS = say("pack.budgets")
BUDGETS_MEANS = say("pack.budgets.means")
NOT_COUNTED = say("pack.budgets.not_counted")
PROPOSALS = say("pack.proposals")
PROPOSALS_MEANS = say("pack.proposals.means")
JOINTS = say("pack.joints.means")
JOINTS_KEY = [
    ("1, 2, 3", say("pack.joints.key_order")),
    ("\u2013", say("pack.joints.key_skipped")),
    ("ring", say("pack.joints.key_ring")),
    ("tap", say("pack.joints.key_tap")),
    ("typed", say("pack.joints.key_typed")),
]
SPOKEN = say("pack.spoken.means")
MACHINE = say("pack.spoken.machine")
CONFIRMED = say("pack.spoken.confirmed")
SOMEBODY = say("pack.spoken.somebody")
DIFFER = say("pack.spoken.differ")
NOT_YET = say("pack.spoken.not_yet")
NOT_UNDERSTOOD = say("pack.spoken.not_understood")
CLOSED, FREE, DENOISED = say("pack.spoken.closed"), say("pack.spoken.free"), say("pack.spoken.denoised")
NOTHING_HEARD, AS_ABOVE = "nothing", say("pack.spoken.as_above")
RECOGNISERS_HEAD = say("pack.spoken.recognisers")
RECOGNISERS_WORDS = say("pack.spoken.recognisers_means")
PARTS = {
    "place": say("pack.parts.place"), "point": say("pack.parts.point"), "quantity": say("pack.parts.quantity"), "value": say("pack.parts.value"),
    "unit": say("pack.parts.unit"), "condition": say("pack.parts.condition"), "disposition": say("pack.parts.disposition"),
}  # fmt: skip
PRELOAD = say("pack.joints.preload")
ORIGINAL = say("pack.original_means")
INVENTED = say("pack.invented")

STEPS = [
    say("pack.steps.opens"),
    say("pack.steps.bag"),
    say("pack.steps.manifest"),
    say("pack.steps.tag_manifest"),
    say("pack.steps.seal"),
    say("pack.steps.head"),
    say("pack.steps.records"),
    say("pack.steps.signed"),
    say("pack.steps.chain"),
    say("pack.steps.receipts"),
    say("pack.steps.files"),
    say("pack.steps.copies"),
    say("pack.steps.agrees"),
]

COMMANDS = [
    (
        say("pack.check.bytes"),
        ["sha256sum -c tagmanifest-sha256.txt", "sha256sum -c --quiet manifest-sha256.txt"],
    ),
    (
        say("pack.check.seal"),
        [
            f"openssl dgst -sha256 -verify {layout.SERVER_KEY} -signature {layout.SEAL} {layout.TAG_MANIFEST}",
            f"openssl dgst -sha256 -verify {layout.SERVER_KEY} -signature {layout.HEAD_SIGNATURE} {layout.HEAD}",
        ],
    ),
    (say("pack.check.server"), [f"openssl pkey -pubin -in {layout.SERVER_KEY} -outform DER | sha256sum | cut -c1-32"]),
    (say("pack.check.everything"), ["python3 verify.pyz"]),
]


def claimed_words(claimed: str) -> str:
    """`2026-05-14T10:38:07.120+01:00` as `2026-05-14 10:38:07 +01:00`."""
    return f"{claimed[:10]} {claimed[11:19]} {claimed[23:]}".strip()


def cautions(stages: list[list[str]]) -> list[str]:
    """The cautions of the stages the job went through, each once, with the one that always stands first."""
    return list(dict.fromkeys([ALWAYS, *(caution for some in stages for caution in some)]))


def read_me(sort: str, workshop: str, job: str, server: str, counts: str, spoken: bool = False) -> bytes:
    """READ-ME-FIRST.txt. `spoken`: there are transcripts of recordings in it."""
    lines = [
        say("pack.read_me.title", sort=SORT_TITLE[sort], job=job),
        say("pack.read_me.made_by", workshop=workshop),
        "",
        *_wrapped(SORT_WORDS[sort]),
        "",
        counts,
        "",
        say("pack.read_me.open"),
        *(_wrapped(SPOKEN) if spoken else []),
        "",
        say("pack.read_me.server", server=server),
        *_wrapped(say("pack.read_me.compare")),
        "",
        say("pack.read_me.check"),
        "",
    ]  # fmt: skip
    for title, commands in COMMANDS:
        lines += [f"  {title}:", *(f"    {command}" for command in commands), ""]
    lines += [say("pack.read_me.steps"), ""]
    lines += [f"  {f'({number})':>4} {step}" for number, step in enumerate(STEPS, 1)]
    lines += ["", say("pack.read_me.not_shown"), ""]
    lines += [f"  - {words}" for words in DOES_NOT_SHOW]
    lines += ["", *_wrapped(NO_CERTIFICATE), *_wrapped(ORIGINAL), "", *_layout_words()]
    return "\n".join(lines).encode() + b"\n"


def _layout_words() -> list[str]:
    return [
        say("pack.read_me.layout"),
        "",
        "  data/report.pdf               the job in order of the work, to print",
        "  data/index.html               the same to look through, opens without a network",
        "  data/record/entries/          each record, its exact bytes; sha256sum shows the name it has in the log",
        "  data/record/receipts.jsonl    for each record: position, time received, signature, way to the root",
        "  data/record/head.json, .sig   the head of the log and the server's signature; server.pem is its key",
        "  data/record/media.jsonl       for each file: its SHA-256, and where it is, or its copy, or why it is not",
        "  data/record/people.json       names of people and devices, and who is a manager, outside the proof",
        "  data/record/cycles.json       fasteners that a torque tool had tightened by then, outside the proof",
        "  data/originals/, data/copies/ the files themselves, named by the SHA-256 of the original",
        "  data/previews/                small pictures for page and PDF, made from the originals",
    ]


def _wrapped(text: str, width: int = 100) -> list[str]:
    lines, line = [], ""
    for word in text.split():
        if line and len(line) + 1 + len(word) > width:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*lines, line]
