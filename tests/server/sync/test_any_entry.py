"""Whatever the log may hold can be shown: no entry that passes the checks of its kind can stop the projections."""

from __future__ import annotations

import uuid

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as any_of

from tests.support.measured import a_gauge, a_limit, a_procedure, a_size, some_rules
from tests.support.record import a_v6
from tests.support.spoken import a_result
from tests.support.tightening import a_sheet, a_stage, a_tool
from witnessmark.db import db, make_engine, reading, writing
from witnessmark.log.append import append
from witnessmark.log.heads import Keeper
from witnessmark.log.rows import CheckedEntry
from witnessmark.projections import apply as projections
from witnessmark.projections import figures, items, job_list, pages, tightening
from witnessmark.projections.filters import Filters
from witnessmark.proof.canonical import canonical, sha256_hex
from witnessmark.trade.record.kinds import KINDS, STAGE_CODES, check_entry

WORKSHOP, DEVICE, JOB = (str(uuid.UUID(int=number, version=4)) for number in (1, 2, 3))

words = any_of.text(any_of.characters(exclude_categories=("Cs", "Cc")), max_size=12)
not_blank = words.filter(str.strip)
ids = any_of.uuids(version=4).map(str)
hashes = any_of.binary(min_size=32, max_size=32).map(bytes.hex)
places = any_of.sampled_from(["bore/3", "head_bolt/A/2", "bore/77", "nothing_known/Z_9/4", "vehicle", "lobe/5/inlet"])
locations = any_of.none() | any_of.fixed_dictionaries({"place": places, "point": words})
times = any_of.sampled_from(
    ["0001-01-01T00:00:00.000+14:00", "2026-05-14T10:38:07.120+01:00", "9999-12-31T23:59:59.999-12:00"]
)


def values(spec: dict):
    """Values a field may hold, as kinds.json describes it."""
    sort = spec["is"]
    made = {
        "text": lambda: (not_blank if spec.get("least") else words).map(lambda text: text[: spec["most"]]),
        "texts": lambda: any_of.lists(not_blank, max_size=3, unique=True),
        "choice": lambda: any_of.sampled_from(sorted(spec["of"])),
        "yes_no": any_of.booleans,
        "whole": lambda: any_of.integers(spec["from"], spec["to"]),
        "decimal": lambda: any_of.sampled_from(["0.25", "-3", "12.0"]),
        "uuid": lambda: ids | any_of.just("") if spec.get("empty") else ids,
        "hash": lambda: hashes,
        "key": lambda: any_of.just("MFkw" * 30),
        "letter": lambda: any_of.sampled_from(["A", "AB"]),
        "stage": lambda: any_of.sampled_from(sorted(STAGE_CODES)),
        "location": lambda: locations,
        "amount": lambda: any_of.sampled_from(["57.02", "3 1/2", "-0,02 mm", "+.5"]),
        "gauge": lambda: any_of.sampled_from([a_gauge(), a_gauge(retired=True, due="", serial="")]),
        "limit": lambda: any_of.sampled_from([a_limit(), a_limit(low="0", procedure="own_a", figure="b")]),
        "size": lambda: any_of.sampled_from([a_size(), a_size(code="material", values=["grey_iron"], unit="")]),
        "procedure": lambda: any_of.just(a_procedure()),
        "measuring_rules": lambda: any_of.just(some_rules()),
        "tightening_sheet": lambda: any_of.sampled_from([a_sheet(), a_sheet(stages=[a_stage(proposed=True)])]),
        "torque_tool": lambda: any_of.sampled_from([a_tool(), a_tool(retired=True, due="")]),
        "transcripts": lambda: any_of.sampled_from([[], [a_result()], [a_result("whisper", "", sort="free")]]),
        "means": lambda: any_of.sampled_from(["", "part:gudgeon_pin", "condition:nothing known"]),
        "engine_type": lambda: any_of.sampled_from([a_v6(), a_v6(name="H")]),
        "changes": lambda: any_of.dictionaries(any_of.sampled_from(["value", "remark"]), words, min_size=1),
        "job_changes": lambda: any_of.dictionaries(any_of.sampled_from(["vehicle", "complaint"]), words, min_size=1),
    }[sort]()
    return any_of.none() | made if spec.get("null") else made


@any_of.composite
def entries(draw, kind, version: int) -> dict:
    files = []
    if rule := kind.media:
        kind_of_file = rule.types[0] if rule.types[0].count("/") and not rule.types[0].endswith("/") else "image/jpeg"
        if rule.types[0].endswith("/"):
            kind_of_file = f"{rule.types[0]}jpeg"
        files = [
            {
                "sha256": draw(hashes), "length": draw(any_of.integers(1, 99)), "name": draw(words),
                "role": rule.role, "type": kind_of_file,
            }
        ]  # fmt: skip
    return {
        "author": draw(ids),
        "body": {name: draw(values(spec)) for name, spec in kind.versions[version]["body"].items()},
        "claimed": draw(times),
        "clock": {"boot": "0a1b2c3d", "monotonic_ms": 5, "offset_age_s": None, "offset_ms": None, "zone": "UTC"},
        "device": DEVICE,
        "id": str(uuid.uuid4()),
        "job": None if kind.job == "none" else JOB,
        "kind": kind.name,
        "location": draw(locations) if kind.may_have_location else None,
        "media": files,
        "previous": "0" * 64,
        "sequence": 1,
        "stage": draw(any_of.none() | any_of.sampled_from(sorted(STAGE_CODES))),
        "version": version,
        "workshop": WORKSHOP,
    }


class NoSigner:
    server_id = "0" * 32

    def sign(self, _message: bytes) -> str:
        return "none"


@pytest.fixture(scope="module")
def engine(tmp_path_factory):
    """A log without a workshop around it: the projections need no more."""
    made = make_engine(f"sqlite:///{tmp_path_factory.mktemp('log') / 'log.db'}")
    with writing(made) as conn:
        db.metadata.create_all(conn)
        projections.prepare(conn)
    yield made
    made.dispose()


@pytest.mark.parametrize(("kind", "version"), [(kind, version) for kind in KINDS.values() for version in kind.versions])
@settings(max_examples=10, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=any_of.data())
def test_every_entry_of_a_kind_can_be_taken_in_and_shown(engine, kind, version, data):
    entry = data.draw(entries(kind, version))
    entry["id"] = entry["id"][:14] + "7" + entry["id"][15:]
    check_entry(entry)
    with writing(engine) as conn:
        position = pages.newer(conn, WORKSHOP, "", None).position
        entry["sequence"] = 1 + len(list(conn.exec_driver_sql("SELECT 1 FROM log_entries")))
        written = canonical(entry)
        item = CheckedEntry(written, sha256_hex(written), "none", entry)
        rows, _ = append(conn, WORKSHOP, [item], "2026-05-14T09:38:09.000Z", Keeper(NoSigner(), "epoch"))
        projections.apply(conn, rows)
    with reading(engine) as conn:
        assert items.show(conn, WORKSHOP, [rows[0].position])[0]["id"] == entry["id"]
        if entry["job"]:
            assert pages.newer(conn, WORKSHOP, JOB, position).rows == [rows[0].position]
            assert job_list.with_screen(conn, WORKSHOP, JOB)["entries"] > 0
            assert figures.of_job(conn, WORKSHOP, JOB)["job"]["id"] == JOB
            assert all(run["stages"] == [] for run in tightening.of_job(conn, WORKSHOP, JOB, []))
            pages.of_job(conn, WORKSHOP, JOB, Filters(words=data.draw(words), job=JOB))
