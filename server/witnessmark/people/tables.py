"""The tables of people, phones and sign-ins. Unlike the log these may change; nothing here is evidence."""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    Float,
    Index,
    Integer,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from witnessmark.db import db

workshops = Table(
    "workshops",
    db.metadata,
    Column("id", String(36), primary_key=True),
    Column("name", Text, nullable=False),
    Column("desk", String(36), nullable=False),
    Column("founded", String(24), nullable=False),
)

persons = Table(
    "persons",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("id", String(36), nullable=False),
    Column("name", Text, nullable=False),
    # The name as it is compared: case folded, spaces closed up.
    Column("sign_in_name", Text, nullable=False),
    Column("role", String(12), nullable=False),
    Column("active", Boolean, nullable=False),
    Column("password", Text),
    Column("pin", Text),
    PrimaryKeyConstraint("workshop", "id"),
    UniqueConstraint("workshop", "sign_in_name"),
)

devices = Table(
    "devices",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("id", String(36), nullable=False),
    Column("name", Text, nullable=False),
    # A, B, C ... as written beside its exhibits; empty for the desk of the office.
    Column("letter", String(4), nullable=False),
    Column("platform", Text, nullable=False),
    Column("public_key", Text, nullable=False),
    Column("token", String(64)),
    Column("enrolled", String(24), nullable=False),
    Column("revoked", String(24)),
    Column("revoked_reason", Text, nullable=False),
    Column("last_seen", String(24)),
    # The highest running number the phone ever said it had: a wiped phone is noticed by it.
    Column("announced", Integer, nullable=False),
    Column("clock_offset_ms", Integer),
    PrimaryKeyConstraint("workshop", "id"),
    UniqueConstraint("workshop", "letter"),
    Index("devices_by_token", "token", unique=True),
)

invitations = Table(
    "invitations",
    db.metadata,
    Column("code", String(64), primary_key=True),
    Column("workshop", String(36), nullable=False),
    Column("invited_by", String(36), nullable=False),
    Column("expires", Float, nullable=False),
    Column("used_by", String(36)),
)

sessions = Table(
    "sessions",
    db.metadata,
    Column("token", String(64), primary_key=True),
    Column("workshop", String(36), nullable=False),
    Column("person", String(36), nullable=False),
    Column("expires", Float, nullable=False),
    Column("seen", Float, nullable=False, server_default="0"),
)

# From where a person signed in before: whoever guesses elsewhere does not shut them out there.
sign_in_places = Table(
    "sign_in_places",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("person", String(36), nullable=False),
    Column("address", String(64), nullable=False),
    Column("last", Float, nullable=False),
    PrimaryKeyConstraint("workshop", "person", "address"),
)

attempts = Table(
    "attempts",
    db.metadata,
    Column("who", Text, primary_key=True),
    Column("failures", Integer, nullable=False),
    Column("last", Float, nullable=False),
)

owners = Table(
    "owners",
    db.metadata,
    Column("workshop", String(36), nullable=False),
    Column("job", String(36), nullable=False),
    Column("name", Text, nullable=False),
    Column("phone", Text, nullable=False),
    Column("mail", Text, nullable=False),
    PrimaryKeyConstraint("workshop", "job"),
)
