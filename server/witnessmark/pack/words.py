"""What a pack says about itself, in the same words in the PDF, on the page and in READ-ME-FIRST."""

from __future__ import annotations

from witnessmark.proof import layout
from witnessmark.trade.engine.stages import ALWAYS

SORT_TITLE = {layout.SEALED: "Sealed pack", layout.CUSTOMER: "Pack for the customer"}
SORT_WORDS = {
    layout.SEALED: "The originals are in it untouched, as the workshop's server received them. They may carry the "
    "place where a picture was taken, the phone's make and number, and other things the phone wrote into them. "
    "Give it only to whom these are meant for.",
    layout.CUSTOMER: "It holds copies. Place, phone, comments and anything behind the end of a picture were taken out; "
    "no picture was decoded, no point of it changed. Each copy is tied to its original by a hash of the very bytes "
    "that make the picture (scan hash). The workshop holds the originals and a sealed pack of them.",
}

TIMES = [
    ("claimed", "The time on the device that made the record. A clock can be wrong; nothing is decided by it."),
    ("received", "The time on the workshop's server when the record came in. The record existed by then."),
    ("attested", "The time given by an authority outside the workshop. None was asked for this pack."),
]

SHOWS = [
    "Each record is signed with the key of the device that made it, and has not changed since.",
    "Each record stands in the workshop's log at its position; the log's head is signed by the server. "
    "A later head can be shown to contain this one, so that nothing can be taken out or slipped in unnoticed.",
    "Records of one device name the record before them: their order on the device is fixed.",
    "Each picture, sound and document is tied to its record by SHA-256.",
    "A correction never replaces a record. Both are here, with the reason.",
]
DOES_NOT_SHOW = [
    "that what was photographed is the part it is said to be: that is the word of the person who recorded it",
    "that a device's clock was right",
    "that nothing was done or seen that nobody recorded",
    "that a machine transcript is what was said: listen to the recording; a person's name stands where one has",
    "what happened to a part before the first record of it",
    "who held the phone: people sign in with a name and a PIN, and names are kept outside the proof",
    "that the workshop's server key is the workshop's: compare its name with the one you were told",
]
NO_CERTIFICATE = (
    "This pack records what was seen, measured and done. It is no certificate of fitness, no warranty and no expert's "
    "opinion; where an opinion is given, it is marked as one."
)
STANDING = {
    "within": "within limits",
    "outside": "outside limits",
    "not proven": "not proven",
    "no limit": "no limit set",
}
RULES = {"guarded": "guarded acceptance", "guarded_95": "guarded acceptance, 95 %", "simple": "simple acceptance"}
FIGURES = (
    "What was measured by a procedure, sheet by sheet, and how it stands to the limits that the workshop set for this "
    "engine, by the rule named at each sheet. The figures are worked out from the readings in this pack and from what "
    "the workshop said of its gauges, limits and rules, which is in this pack too. They are no certificate."
)
STANDINGS = [
    ("within limits", "outlined", "the figure and what measuring leaves uncertain lie inside the limit"),
    ("outside limits", "solid", "it lies beyond the limit by more than measuring leaves uncertain"),
    ("not proven", "hatched", "the limit lies within what measuring leaves uncertain; it says what would settle it"),
    ("no limit set", "plain", "nobody set a limit, so nothing is judged"),
]
FIGURES_UNCERTAIN = (
    "± is the expanded uncertainty of a figure, about 95 %. Under simple acceptance the value alone is judged; a sheet "
    "says so. A gauge that was past its date when it was used stays marked, whatever a later calibration finds."
)
BUDGETS = "What their uncertainty is made of"
BUDGETS_MEANS = (
    "For the figures that are outside limits or not proven: how much each thing adds to what measuring leaves "
    "uncertain (u, one standard uncertainty), and its share, the largest first. Squared and added up they give the "
    "square of u; \u00b1 is k times u."
)
NOT_COUNTED = "not counted"
PROPOSALS = "Proposed from these figures"
PROPOSALS_MEANS = "A proposal is arithmetic from what is named under it. It decides nothing: somebody decides."
JOINTS = (
    "Joints that were tightened or let go by a sheet of the workshop, as carried out: what was done otherwise than the "
    "sheet asks stays in, with its answer. They are worked out from the records in this pack and from what the "
    "workshop said of its sheets and tools, which is in this pack too. A record of tightening is no certificate of the "
    "joint: nobody measured the force in the bolts, and a tap is the word of whoever held the wrench."
)
JOINTS_KEY = [
    ("1, 2, 3", "under a fastener: its place in the order as it was done; reversed where the sheet asks for another"),
    ("\u2013", "under a fastener: left out"),
    ("ring", "round a fastener: something was done otherwise, and answered; a broken ring: it is not answered"),
    ("tap", "the person tapped when the tool told that the target was reached; the target stands as the value"),
    ("typed", "the value was read from the tool and typed"),
]
SPOKEN = (
    "A recording is the evidence; its words are there to find and follow it. A machine transcript is what a recogniser "
    "made of it, with its name, until a person has listened. On the page a word is lit while it is heard, and a word "
    "that is touched is played."
)
MACHINE = "machine transcript, not confirmed"
CONFIRMED = "confirmed by"
SOMEBODY = "a person whose name is not known here"
DIFFER = "the recognisers heard it differently"
NOT_YET = "not transcribed when this pack was cut"
NOT_UNDERSTOOD = "no recogniser understood a word of it"
CLOSED, FREE, DENOISED = "words of the trade only", "free dictation", "after noise was taken out"
NOTHING_HEARD, AS_ABOVE = "nothing", "word for word as above"
RECOGNISERS_HEAD = "Recognisers that listened"
RECOGNISERS_WORDS = (
    "Programs with these models, known by their hashes, made the machine transcripts. None was given the value that "
    "was expected or recorded."
)
PARTS = {
    "place": "the place", "point": "the point", "quantity": "what was measured", "value": "the value",
    "unit": "the unit", "condition": "the condition", "disposition": "what is to be done",
}  # fmt: skip
PRELOAD = "Force in the bolts: an estimate, no limit"
ORIGINAL = (
    "An original is the file as the workshop's program received it from the phone or the computer, byte for byte."
)
INVENTED = "Demonstration: workshop, people, vehicles, engines and all figures in this pack are invented."

STEPS = [
    "the pack opens, and no name in it leads outside it",
    "the bag says what it is and how much it holds",
    "the manifest lists every file under data/ and nothing else, and every byte is as listed",
    "the tag manifest does the same for all other files",
    "the server's key seals the tag manifest, and through it every byte of the pack",
    "the head of the log is signed by that key",
    "the entries are canonical, complete, of this workshop and this job",
    "each entry is the one its receipt names, and is signed by the device that made it",
    "the entries of each device follow one another, each naming the hash of the one before",
    "each receipt leads to the root of the signed head",
    "every file an entry names is here, or its copy, or the reason why it is not",
    "each copy shows or plays exactly what its original does, and carries nothing else",
    "what the pack says of itself agrees with what is in it",
]

COMMANDS = [
    (
        "Every byte as listed (in the pack's folder)",
        ["sha256sum -c tagmanifest-sha256.txt", "sha256sum -c --quiet manifest-sha256.txt"],
    ),
    (
        "The server's seal over all of it, and over the head of the log",
        [
            f"openssl dgst -sha256 -verify {layout.SERVER_KEY} -signature {layout.SEAL} {layout.TAG_MANIFEST}",
            f"openssl dgst -sha256 -verify {layout.SERVER_KEY} -signature {layout.HEAD_SIGNATURE} {layout.HEAD}",
        ],
    ),
    ("The name of the server", [f"openssl pkey -pubin -in {layout.SERVER_KEY} -outform DER | sha256sum | cut -c1-32"]),
    ("Everything, record by record (Python 3.9 or newer, nothing to install)", ["python3 verify.pyz"]),
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
        f"{SORT_TITLE[sort]} of job {job}",
        f"cut by {workshop}",
        "",
        *_wrapped(SORT_WORDS[sort]),
        "",
        counts,
        "",
        "To read it: open data/report.pdf or data/index.html.",
        *(_wrapped(SPOKEN) if spoken else []),
        "",
        f"The server's name is {server}",
        *_wrapped("Compare it with the name the workshop gave you by another way, on paper or by telephone. All that "
                  "follows rests on it."),
        "",
        "To check it, with nothing of ours:",
        "",
    ]  # fmt: skip
    for title, commands in COMMANDS:
        lines += [f"  {title}:", *(f"    {command}" for command in commands), ""]
    lines += ["verify.pyz names the check for every fault it finds:", ""]
    lines += [f"  {f'({number})':>4} {step}" for number, step in enumerate(STEPS, 1)]
    lines += ["", "What the pack does not prove:", ""]
    lines += [f"  - {words}" for words in DOES_NOT_SHOW]
    lines += ["", *_wrapped(NO_CERTIFICATE), *_wrapped(ORIGINAL), "", *_layout_words()]
    return "\n".join(lines).encode() + b"\n"


def _layout_words() -> list[str]:
    return [
        "What lies where:",
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
