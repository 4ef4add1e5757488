"""What a pack says about itself, in the same words in the PDF, on the page and in READ-ME-FIRST."""

from __future__ import annotations

from pathlib import Path

from witnessmark.proof import layout
from witnessmark.trade.engine.stages import ALWAYS
from witnessmark.trade.ground.sentences import say

SORT_TITLE = {layout.SEALED: say("pack.sealed"), layout.CUSTOMER: say("pack.for_customer")}
SORT_WORDS = {
    layout.SEALED: say("pack.sealed_means"),
    layout.CUSTOMER: say("pack.customer_means"),
}

TIMES = [
    (say("pack.label.phone_time"), say("pack.phone_time")),
    (say("pack.label.server_time"), say("pack.server_time")),
    (say("pack.label.independent_time"), say("pack.independent_time")),
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
NOTHING_HEARD, AS_ABOVE = say("pack.spoken.nothing"), say("pack.spoken.as_above")
RECOGNISERS_HEAD = say("pack.spoken.recognisers")
RECOGNISERS_WORDS = say("pack.spoken.recognisers_means")
PARTS = {
    "place": say("pack.parts.place"),
    "point": say("pack.parts.point"),
    "quantity": say("pack.parts.quantity"),
    "value": say("pack.parts.value"),
    "unit": say("pack.parts.unit"),
    "condition": say("pack.parts.condition"),
    "disposition": say("pack.parts.disposition"),
}
PRELOAD = say("pack.joints.preload")
ORIGINAL = say("pack.original_means")
INVENTED = say("pack.invented")

# Heads and small labels, in the PDF and on the page.
LABELS = {
    "owner": say("pack.block.owner"),
    "title": say("pack.block.title"),
    "number": say("pack.block.number"),
    "document": say("pack.block.document"),
    "subtitle": say("pack.block.subtitle"),
    "issued": say("pack.block.issued"),
    "program": say("pack.block.program"),
    "head": say("pack.block.head"),
    "sheet": say("pack.block.sheet"),
    "phone_time": say("pack.label.phone_time"),
    "server_time": say("pack.label.server_time"),
    "independent_time": say("pack.label.independent_time"),
    "none": say("pack.label.none"),
    "record_of": say("pack.label.teardown_record"),
    "job": say("pack.label.job"),
    "fact": say("pack.label.fact"),
    "as_recorded": say("pack.label.as_recorded"),
    "balloons": say("pack.label.balloons"),
    "figures": say("pack.label.figures"),
    "joints": say("pack.label.joints"),
    "findings_and_readings": say("pack.label.findings_and_readings"),
    "findings": say("pack.label.findings"),
    "measurements": say("pack.label.measurements"),
    "fasteners": say("pack.label.fasteners"),
    "records": say("pack.label.records"),
    "files": say("pack.label.files"),
    "no": say("pack.label.no"),
    "place": say("pack.label.place"),
    "observed": say("pack.label.observed"),
    "opinion": say("pack.label.opinion"),
    "quantity": say("pack.label.quantity"),
    "as_typed": say("pack.label.as_typed"),
    "gauge": say("pack.label.gauge"),
    "fastener": say("pack.label.fastener"),
    "how": say("pack.label.how"),
    "tool": say("pack.label.tool"),
    "original_hash": say("pack.label.original_hash"),
    "bytes": say("pack.label.bytes"),
    "in_this_pack": say("pack.label.in_this_pack"),
    "what_adds": say("pack.label.what_adds"),
    "share": say("pack.label.share"),
    "input": say("pack.label.input"),
    "value": say("pack.label.value"),
    "source": say("pack.label.source"),
    "formula": say("pack.label.formula"),
    "gauge_overdue": say("pack.figures.gauge_overdue"),
    "stage": say("pack.label.stage"),
    "estimate": say("pack.label.estimate"),
    "deviations": say("pack.label.deviations"),
    "no_deviations": say("pack.label.no_deviations"),
    "how_it_ended": say("pack.label.how_it_ended"),
    "missing": say("pack.label.missing"),
    "what": say("pack.label.what"),
    "as_carried_out": say("pack.label.as_carried_out"),
    "sign": say("pack.label.sign"),
    "means": say("pack.label.means"),
    "remark": say("pack.label.remark"),
    "query": say("pack.label.query"),
    "recogniser": say("pack.label.recogniser"),
    "model_and_vocabulary": say("pack.label.model_and_vocabulary"),
    "model": say("pack.label.model"),
    "heard": say("pack.label.heard"),
    "to_the_records": say("pack.label.to_the_records"),
    "as_pdf": say("pack.label.as_pdf"),
    "shows": say("pack.label.shows"),
    "does_not_prove": say("pack.label.does_not_prove"),
    "three_times": say("pack.label.three_times"),
    "cautions": say("pack.label.cautions"),
    "how_to_check": say("pack.label.how_to_check"),
    "reading_or_figure": say("pack.label.reading_or_figure"),
    "withdrawn_by": say("pack.page.withdrawn_by"),
    "record": say("pack.label.record"),
    "file": say("pack.label.file"),
}

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
    (say("pack.check.tell"), ["python3 verify.pyz --tell"]),
    (say("pack.check.two"), ["python3 verify.pyz EARLIER.zip LATER.zip"]),
    (say("pack.check.log"), ["python3 verify.pyz --log LOG"]),
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
    lines += [*_wrapped(say("pack.read_me.own_copy")), "", say("pack.read_me.steps"), ""]
    lines += [f"  {f'({number})':>4} {step}" for number, step in enumerate(STEPS, 1)]
    lines += ["", say("pack.read_me.not_shown"), ""]
    lines += [f"  - {words}" for words in DOES_NOT_SHOW]
    lines += ["", *_wrapped(NO_CERTIFICATE), *_wrapped(ORIGINAL), "", *_layout_words()]
    return "\n".join(lines).encode() + b"\n"


LAYOUT = {
    "data/report.pdf": say("pack.layout.report"),
    "data/index.html": say("pack.layout.page"),
    "data/record/entries/": say("pack.layout.records"),
    "data/record/receipts.jsonl": say("pack.layout.receipts"),
    "data/record/head.json, .sig": say("pack.layout.head"),
    "data/record/media.jsonl": say("pack.layout.media"),
    "data/record/people.json": say("pack.layout.people"),
    "data/record/cycles.json": say("pack.layout.cycles"),
    "data/record/earlier.json": say("pack.layout.earlier"),
    "data/record/known_logs.json": say("pack.layout.known_logs"),
    "data/record/job.json": say("pack.layout.job"),
    "data/originals/, data/copies/": say("pack.layout.originals"),
    "data/previews/": say("pack.layout.previews"),
}


def _layout_words() -> list[str]:
    return [say("pack.read_me.layout"), "", *(f"  {name:29} {what}" for name, what in LAYOUT.items())]


def _wrapped(text: str, width: int = 100) -> list[str]:
    lines, line = [], ""
    for word in text.split():
        if line and len(line) + 1 + len(word) > width:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}".strip()
    return [*lines, line]


def verify_sheet() -> bytes:
    """VERIFY.txt: how to check a pack with a program of one's own. The same for every pack; UTF-8."""
    return (Path(__file__).parent / "verify.txt").read_bytes()
