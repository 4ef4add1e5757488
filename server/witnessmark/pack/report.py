"""Every word of the report, arranged for `report.typ`: the same facts the page shows."""

from __future__ import annotations

from collections import Counter
from datetime import date
from itertools import groupby

from babel.dates import format_date

from witnessmark.pack import clocks, spoken, words
from witnessmark.pack.media import MediaFile
from witnessmark.pack.story import Answer, Exhibit, Story
from witnessmark.trade.engine.stages import CAUTIONS
from witnessmark.trade.ground.sentences import locale, say
from witnessmark.trade.record.kinds import GROUPS, KINDS, drawn_as
from witnessmark.trade.record.lines import QUANTITY_WORDS

# Records with a picture go on plates.
PLATED = drawn_as("picture")
# Characters up to which a record stays on one page; a longer one may go on over the next.
KEPT_TOGETHER = 1200
# When each word is heard is for the page, whole results for the list of recognisers.
SPOKEN = ("text", "label", "form", "by", "remark", "queries", "heard")


def report(
    story: Story,
    files: list[MediaFile],
    sort: str,
    pack: dict,
    program: str,
    head: dict,
    invented: bool,
    sheets: list[dict],
    joints: list[dict],
    *,
    missing: dict[str, list[tuple[int, int]]] | None = None,
    verifier: str = "",
) -> dict:
    """The contents.json of one report. `head`: {"root", "size", "time"}; `pack` as in pack.json; `sheets` as arranged
    by `figures.arranged`, `joints` by `joints.arranged`; `missing` as `record.Record.missing`; `verifier`
    is the SHA-256 of the verify.pyz that goes with it."""
    by_sha = {file.sha256: file for file in files}
    notes = [exhibit.spoken for exhibit in story.exhibits if exhibit.spoken]
    return {
        **FIXED_WORDS,
        "workshop": story.workshop,
        "number": story.number,
        "title": story.title,
        "block": _title_block(story),
        "document_title": say("pack.report.title", job=story.number, sort=words.SORT_TITLE[sort].lower()),
        "sort_title": words.SORT_TITLE[sort],
        "sort_words": words.SORT_WORDS[sort],
        "issued": pack["made"][:10],
        "program": program,
        "head_words": f"#{head['size']} · {_print(head['root'])}",
        "invented": invented,
        "facts": [{"words": name, "value": value, "changed": changed} for name, value, changed in story.facts],
        "plan": plan(story),
        "counts": [
            {"number": str(len(story.exhibits)), "words": say("pack.report.records")},
            *_counts(story),
        ],
        "clock_words": clocks.clock_words(story),
        "missing_words": clocks.missing_words(missing or {}),
        "parts": [_part(title, some, by_sha) for title, some in _parts(story.exhibits)],
        "sheets": sheets,
        "joints": joints,
        "recognisers": spoken.recognisers(notes),
        "spoken_words": words.SPOKEN if any(note["text"] for note in notes) else "",
        "findings": _findings(story),
        "measured": _measured(story),
        "tightened": _tightened(story),
        "tightened_words": say("pack.report.loose_fasteners") if joints else words.LABELS["fasteners"],
        "cautions": words.cautions([CAUTIONS.get(code, []) for code in _stages(story)]),
        "anchors": [
            (say("pack.report.server"), pack["server"]),
            (say("pack.block.head"), say("pack.report.head", size=head["size"], time=head["time"])),
            (say("pack.report.root_first"), head["root"][:32]),
            (say("pack.report.root_second"), head["root"][32:]),
            *([(say("pack.report.verifier_first"), verifier[:32])] if verifier else []),
            *([(say("pack.report.verifier_second"), verifier[32:])] if verifier else []),
        ],
        "files": [_file(file) for file in files],
    }


# What every report says alike.
FIXED_WORDS = {
    "invented_words": words.INVENTED,
    "no_certificate": words.NO_CERTIFICATE,
    "original_words": words.ORIGINAL,
    "figures_words": words.FIGURES,
    "figures_uncertain": words.FIGURES_UNCERTAIN,
    "sheet_words": {
        "budgets": words.BUDGETS,
        "budgets_means": words.BUDGETS_MEANS,
        "not_counted": words.NOT_COUNTED,
        "proposals": words.PROPOSALS,
        "proposals_means": words.PROPOSALS_MEANS,
    },
    "labels": words.LABELS,
    "language": locale().language,
    "standings": [{"words": name, "form": form, "means": means} for name, form, means in words.STANDINGS],
    "recognisers_head": words.RECOGNISERS_HEAD,
    "recognisers_words": words.RECOGNISERS_WORDS,
    "joints_words": words.JOINTS,
    "joints_key": words.JOINTS_KEY,
    "preload_words": words.PRELOAD,
    "shows": words.SHOWS,
    "does_not_show": words.DOES_NOT_SHOW,
    "times": words.TIMES,
    "commands": words.COMMANDS,
    "files_words": words.ORIGINAL,
}


def _title_block(story: Story) -> dict[str, str]:
    """Cut to their width: the fields of a title block do not grow."""
    texts = {value: text for value, text, _ in story.facts}
    vehicle = (texts.get(say("pack.facts.vehicle")), texts.get(say("pack.facts.registration")))
    return {
        "workshop": shortened(story.workshop, 34),
        "number": shortened(story.number, 20),
        "title": shortened(story.title, 34),
        "subtitle": shortened(" · ".join(filter(None, vehicle)) or "–", 46),
    }


def _counts(story: Story) -> list[dict]:
    """How many records of each kind that is worth counting, in the order of the groups of kinds."""
    order = list(GROUPS)
    counted = sorted((kind for kind in KINDS.values() if kind.counted_as), key=lambda kind: order.index(kind.group))
    numbers = Counter(exhibit.kind for exhibit in story.exhibits)
    return [{"number": str(numbers[kind.name]), "words": kind.counted_as} for kind in counted]


def _parts(exhibits: list[Exhibit]) -> list[tuple[str, list[Exhibit]]]:
    """The records cut where the stage or the day of their receipt changes, so that gaps show in the headings."""
    return [(heading, list(some)) for heading, some in groupby(exhibits, heading_of)]


def heading_of(exhibit: Exhibit) -> str:
    """What the record stands under: its stage and the day the server received it, which no phone's clock decides."""
    stage = exhibit.stage or say("pack.outside_stages")
    return say("pack.report.heading", stage=_capital(stage), day=day_words(exhibit.received[:10]))


def _part(title: str, exhibits: list[Exhibit], files: dict[str, MediaFile]) -> dict:
    runs = [
        {"plates": plates, "items": [_item(exhibit, files) for exhibit in some]}
        for plates, some in groupby(exhibits, lambda exhibit: exhibit.kind in PLATED)
    ]
    return {"title": title, "runs": runs}


def _item(exhibit: Exhibit, files: dict[str, MediaFile]) -> dict:
    own = [files[item["sha256"]] for item in exhibit.media if item["sha256"] in files]
    picture = next((file for file in own if file.preview), None)
    where = ", ".join(part for part in (exhibit.place_name, exhibit.point) if part)
    of = f" of {where}" if where else ""
    return {
        "number": exhibit.number,
        "title": exhibit.title,
        "text": exhibit.text,
        "was": {"title": exhibit.was[0], "text": exhibit.was[1]} if exhibit.was else None,
        "by": " · ".join(part for part in (exhibit.author, exhibit.device, *clocks.time_remarks(exhibit)) if part),
        "claimed": words.claimed_words(exhibit.claimed),
        "received": clocks.received_words(exhibit.received),
        "corrections": [_answer(answer) for answer in exhibit.corrections],
        "withdrawn": _answer(exhibit.withdrawn) if exhibit.withdrawn else None,
        "long": _length(exhibit) > KEPT_TOGETHER,
        "picture": picture.preview if picture else None,
        "ratio": picture.ratio if picture else 1,
        "alt": f"Exhibit {exhibit.number}, photograph{of}. {exhibit.body.get('caption', '')}".strip(),
        "missing": _missing(own),
        "spoken": exhibit.spoken and {name: exhibit.spoken[name] for name in SPOKEN},
        "files": [_named(file) for file in own] if exhibit.kind != PLATED else [],
    }


def _missing(own: list[MediaFile]) -> str:
    """Why a record shows no picture."""
    reasons = (reason for file in own for reason in (file.record.get("left_out"), file.fault) if reason)
    return next(reasons, say("pack.report.no_preview"))


def _answers_length(exhibit: Exhibit) -> int:
    return sum(len(answer.reason) + 40 for answer in (*exhibit.corrections, *filter(None, [exhibit.withdrawn])))


def _length(exhibit: Exhibit) -> int:
    own = len(exhibit.title) + len(exhibit.text) + sum(map(len, exhibit.was or ()))
    return own + _answers_length(exhibit) + _spoken_length(exhibit)


def _spoken_length(exhibit: Exhibit) -> int:
    if not exhibit.spoken:
        return 0
    lines = [*exhibit.spoken["heard"], {"text": exhibit.spoken["text"], "small": "".join(exhibit.spoken["queries"])}]
    return sum(len(line["text"]) + len(line["small"]) for line in lines)


def _named(file: MediaFile) -> str:
    """Where a sound or document lies in the pack, short enough for a line; its whole name stands under Files."""
    if not file.given:
        return file.record["left_out"]
    folder, name = file.given.removeprefix("data/").split("/")
    stem, ending = name.split(".")
    return say("pack.report.file", file=f"{folder}/{stem[:12]}….{ending}", length=_grouped(file.length))


def plan(story: Story) -> dict | None:
    """The engine from above with its tallies, for the title page; None for an engine of unknown type."""
    engine = story.engine_type
    if not engine:
        return None
    counts: dict[str, int] = {}
    for exhibit in story.exhibits:
        for segment in exhibit.place.split("/")[1:]:
            if segment.isdigit() and exhibit.place.split("/")[0] not in (
                "main",
                "main_bearing",
                "crankpin",
                "head_bolt",
            ):
                counts[segment] = counts.get(segment, 0) + 1
                break
    banks = [
        {
            "code": say("pack.report.bank", code=bank["code"]),
            "late": bool(bank.get("stagger_mm")),
            "cylinders": [{"number": number, "count": counts.get(str(number), 0)} for number in bank["cylinders"]],
        }
        for bank in engine["banks"]
    ]
    cylinders = [cylinder for bank in banks for cylinder in bank["cylinders"]]
    listed = ", ".join(say("pack.report.cylinder", **cylinder) for cylinder in cylinders)
    return {
        "banks": banks,
        "mains": engine["mains"],
        "words": say("pack.report.plan_key", engine=engine["name"]),
        "alt": say("pack.report.plan", engine=engine["name"], counts=listed),
    }


def _findings(story: Story) -> list[dict]:
    return [
        _row(exhibit, observed=exhibit.body["observation"], opinion=exhibit.body["opinion"] or "–")
        for exhibit in _by_place(story, "finding_made")
    ]


def _measured(story: Story) -> list[dict]:
    return [
        _row(
            exhibit,
            quantity=QUANTITY_WORDS.get(exhibit.body["quantity"], exhibit.body["quantity"]),
            value=_value(exhibit),
            was=_was(exhibit),
            gauge=exhibit.body["gauge"] or say("pack.report.not_said"),
        )
        for exhibit in _by_place(story, "measured")
    ]


def _tightened(story: Story) -> list[dict]:
    """Those of no run: the others stand under Joints."""
    return [
        _row(
            exhibit,
            place=", ".join(part for part in (exhibit.place_name, exhibit.body["fastener"]) if part),
            how=", ".join(part for part in (_choice(exhibit, "method"), _choice(exhibit, "state")) if part),
            value=_value(exhibit),
            was=_was(exhibit),
            tool=exhibit.body["tool"] or say("pack.report.not_said"),
        )
        for exhibit in _by_place(story, "fastener_tightened")
        if not exhibit.body.get("run")
    ]


def _choice(exhibit: Exhibit, field: str) -> str:
    """The words of a choice, such as "released at"."""
    choices = KINDS[exhibit.kind].fields[field]["of"]
    return choices.get(exhibit.body[field], exhibit.body[field])


def _by_place(story: Story, kind: str) -> list[Exhibit]:
    return sorted(
        (exhibit for exhibit in story.exhibits if exhibit.kind == kind),
        key=lambda exhibit: (_along(exhibit.place), exhibit.number),
    )


def _along(place: str) -> list[tuple[int, int, str]]:
    """A key that puts bore/2 before bore/10."""
    return [(0, int(part), "") if part.isdigit() else (1, 0, part) for part in place.split("/")]


def _row(exhibit: Exhibit, **more: str) -> dict:
    place = ", ".join(part for part in (exhibit.place_name, exhibit.point) if part) or say("pack.report.whole")
    return {"number": exhibit.number, "place": place, "withdrawn": exhibit.withdrawn is not None, "was": ""} | more


def _value(exhibit: Exhibit, body: dict | None = None) -> str:
    values = body or exhibit.body
    return " ".join(part for part in (values["value"], values["unit"]) if part)


def _was(exhibit: Exhibit) -> str:
    """The figure before a correction, if it was the figure that was corrected."""
    before = _value(exhibit, exhibit.first_body)
    return before if before != _value(exhibit) else ""


def _file(file: MediaFile) -> dict:
    record = file.record
    if record["copy"]:
        removed = record["copy"]["removed"]
        scan = record["copy"]["scan_sha256"][:16]
        where = say("pack.report.copy", scan=scan, removed=", ".join(removed) or say("pack.page.nothing_removed"))
    elif record["path"]:
        where = "original"
    else:
        where = record["left_out"]
    numbers = ", ".join(str(number) for number in file.exhibits)
    return {"numbers": numbers, "sha": file.sha256, "length": _grouped(file.length), "where": where}


def _answer(answer: Answer) -> dict:
    return {"exhibit": answer.exhibit, "reason": answer.reason, "by": answer.by}


def _stages(story: Story) -> list[str]:
    return [exhibit.body["stage"] for exhibit in story.exhibits if exhibit.kind == "stage_reached"]


def day_words(day: str) -> str:
    """`2026-05-14` as `14 May 2026`."""
    return format_date(date.fromisoformat(day), "long", locale=locale())


def shortened(text: str, most: int) -> str:
    """At most `most` characters; what is cut off is shown to be."""
    return text if len(text) <= most else f"{text[: most - 1].rstrip()}…"


def _grouped(number: int) -> str:
    return f"{number:,}".replace(",", " ")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _print(digest: str) -> str:
    return f"{digest[:4]} {digest[4:8]} … {digest[-4:]}"
