"""The tables of every projection. They can be dropped at any time: `apply.rebuild` fills them again from the log.

A record's `row` is its workshop's number above its position, so that one running number orders the records of a
workshop, serves as the row id of the word index, and never collides with another workshop's.
"""

from __future__ import annotations

from sqlalchemy import BigInteger, Boolean, Column, Index, Integer, MetaData, Table, Text

metadata = MetaData()

ROW = BigInteger().with_variant(Integer, "sqlite")
POSITION_BITS = 40

version = Table(
    "read_version",
    metadata,
    Column("name", Text, primary_key=True),
    Column("version", Integer, nullable=False),
)

workshop_number = Table(
    "read_workshop",
    metadata,
    Column("workshop", Text, primary_key=True),
    Column("number", Integer, nullable=False, unique=True),
)

job = Table(
    "read_job",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),  # of the first record that names the job
    Column("workshop", Text, nullable=False),
    Column("id", Text, nullable=False),
    *(
        Column(name, Text, nullable=False, default="")
        for name in (
            "number",
            "vehicle",
            "registration",
            "engine_type",
            "engine_number",
            "distance",
            "distance_unit",
            "complaint",
            "received_as",
            "earlier_job",
        )
    ),
    Column("engine_key", Text, nullable=False, default=""),  # the engine number as compared, see visits.py
    Column("stage", Text, nullable=False, default=""),
    Column("opened", Text),  # claimed time of job_opened; empty while that record is still on its way
    Column("last", Text, nullable=False),  # when the newest record was received
    Column("last_position", ROW, nullable=False),
    Column("entries", Integer, nullable=False),
    Column("pictures", Integer, nullable=False),
    Index("read_job_id", "workshop", "id", unique=True),
    Index("read_job_recent", "workshop", "row"),
    Index("read_job_stage", "workshop", "stage", "row"),
    Index("read_job_engine", "workshop", "engine_key", "row"),
)

timeline = Table(
    "read_timeline",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),
    Column("workshop", Text, nullable=False),
    Column("job", Text, nullable=False),
    Column("exhibit", Integer, nullable=False),
    Column("position", ROW, nullable=False),
    Column("id", Text, nullable=False),
    Index("read_timeline_exhibit", "workshop", "job", "exhibit", unique=True),
)

answer = Table(
    "read_answer",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),  # of the correction or withdrawal
    Column("workshop", Text, nullable=False),
    Column("job", Text),  # empty when it is about the workshop itself
    Column("target", Text, nullable=False),  # id of the record it answers
    Column("root", Text, nullable=False),  # id of the record at the end of the chain, which answers no other
    Column("sort", Text, nullable=False),  # corrected | withdrawn
    Column("id", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("reason", Text, nullable=False),
    Column("changes", Text, nullable=False),  # JSON
    Index("read_answer_target", "workshop", "target"),
    Index("read_answer_root", "workshop", "root"),
    Index("read_answer_job", "workshop", "job"),
)

said_of = Table(
    "read_said_of",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),  # of the correction, transcript or confirmation
    Column("target", ROW, nullable=False),  # row of the record it speaks of
    Column("said", Text, nullable=False),  # JSON: field -> words, this record's and the last of each earlier one
    Index("read_said_of_target", "target", "row"),
)

tally = Table(
    "read_tally",
    metadata,
    Column("workshop", Text, primary_key=True),
    Column("job", Text, primary_key=True),
    Column("sort", Text, primary_key=True),  # place | kind | person | device | stage
    Column("value", Text, primary_key=True),
    Column("entries", Integer, nullable=False),
)

tick = Table(
    "read_tick",
    metadata,
    Column("workshop", Text, primary_key=True),
    Column("job", Text, primary_key=True),
    Column("stage", Text, primary_key=True),
    Column("item", Text, primary_key=True),
    Column("ticked", Boolean, nullable=False),
    Column("note", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("claimed", Text, nullable=False),
    Column("position", ROW, nullable=False),
)

engine_type = Table(
    "read_engine_type",
    metadata,
    Column("workshop", Text, primary_key=True),
    Column("id", Text, primary_key=True),
    Column("position", ROW, primary_key=True),  # every description ever given; the highest counts
    Column("name", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("received", Text, nullable=False),
    Column("data", Text, nullable=False),  # JSON
)

reading = Table(
    "read_reading",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),
    Column("workshop", Text, nullable=False),
    Column("job", Text, nullable=False),
    Column("id", Text, nullable=False),
    Column("procedure", Text, nullable=False),  # empty for a single reading; as it was made, not as corrected
    Column("place", Text, nullable=False),
    Column("gauge", Text, nullable=False),  # id, empty when none of the register was named
    Column("claimed", Text, nullable=False),
    Index("read_reading_job", "workshop", "job", "row"),
    Index("read_reading_gauge", "workshop", "gauge", "row"),
)

run = Table(
    "read_run",
    metadata,
    # Of an entry about a run, or of a fastener tightened with a tool of the register.
    Column("row", ROW, primary_key=True, autoincrement=False),
    Column("workshop", Text, nullable=False),
    Column("job", Text, nullable=False),
    Column("id", Text, nullable=False),
    Column("run", Text, nullable=False),  # empty outside any run
    Column("joint", Text, nullable=False),  # as it was begun; empty for every other entry
    Column("tool", Text, nullable=False),  # id, empty when none of the register was named
    Index("read_run_job", "workshop", "job", "row"),
    Index("read_run_tool", "workshop", "tool", "row"),
)

statement = Table(
    "read_statement",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),
    Column("workshop", Text, nullable=False),
    Column("kind", Text, nullable=False),
    # What it is about: the id of a gauge, limit, sheet, tool …, the code of a procedure, empty for the rules.
    Column("subject", Text, nullable=False),
    Column("engine_type", Text, nullable=False),  # of limits, sizes and tightening sheets, else empty
    Column("position", ROW, nullable=False),
    Column("id", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("claimed", Text, nullable=False),
    Column("received", Text, nullable=False),
    Column("data", Text, nullable=False),  # JSON
    Index("read_statement_row", "workshop", "row"),
    Index("read_statement_subject", "workshop", "kind", "subject", "row"),
)

spoken = Table(
    "read_spoken",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),  # of the sound
    Column("workshop", Text, nullable=False),
    Column("job", Text, nullable=False),
    Column("id", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("state", Text, nullable=False),  # as trade/spoken/notes.py gives it
    Column("heard", Boolean, nullable=False),  # whether a transcript is here
    Column("due", Boolean, nullable=False),  # whether a recogniser has still to listen to it
    Column("open", Boolean, nullable=False),  # whether it has a query that nobody answered yet
    Column("note", Text, nullable=False),  # JSON: the note without the words and their times
    Index("read_spoken_id", "workshop", "id"),
    Index("read_spoken_open", "workshop", "open", "row"),
    Index("read_spoken_state", "workshop", "state", "row"),
    Index("read_spoken_due", "due", "row"),
    Index("read_spoken_job", "workshop", "job", "open", "row"),
    Index("read_spoken_sha", "sha256", "workshop"),
)

spoken_tie = Table(
    "read_spoken_tie",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),  # of the entry that names the sound
    Column("workshop", Text, nullable=False),
    Column("sound", Text, nullable=False),  # id; it may not be here yet
    Column("id", Text, nullable=False),  # of the transcript, confirmation or record that belongs to it
    Index("read_spoken_tie_sound", "workshop", "sound"),
    Index("read_spoken_tie_id", "workshop", "id"),
)

spoken_word = Table(
    "read_spoken_word",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),
    Column("workshop", Text, nullable=False),
    Column("position", ROW, nullable=False),
    Column("id", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("received", Text, nullable=False),
    Column("data", Text, nullable=False),  # JSON: the body
    Index("read_spoken_word_row", "workshop", "row"),
)

media_ref = Table(
    "read_media_ref",
    metadata,
    Column("row", ROW, primary_key=True, autoincrement=False),
    Column("number", Integer, primary_key=True, autoincrement=False),  # its place in the record's media list
    Column("workshop", Text, nullable=False),
    Column("job", Text),
    Column("sha256", Text, nullable=False),
    Column("length", ROW, nullable=False),
    Column("type", Text, nullable=False),
    Column("role", Text, nullable=False),
    Index("read_media_ref_sha", "sha256", "workshop"),
    Index("read_media_ref_job", "workshop", "job", "sha256"),
)
