"""The log: entries, what was refused, signed heads and kept nodes of the tree; all of it add-only."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

ADD_ONLY = ("log_entries", "log_refused", "log_strays", "log_heads", "log_nodes")


def upgrade():
    op.create_table(
        "log_entries",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("device", sa.String(36), nullable=False),
        sa.Column("sequence", sa.Integer, nullable=False),
        sa.Column("job", sa.String(36)),
        sa.Column("shared", sa.Boolean, nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
        sa.Column("signature", sa.String(88), nullable=False),
        sa.Column("received", sa.String(24), nullable=False),
        sa.Column("offset_ms", sa.Integer),
        sa.Column("leaf", sa.LargeBinary(32), nullable=False),
        sa.PrimaryKeyConstraint("workshop", "position"),
        sa.UniqueConstraint("workshop", "id"),
        sa.UniqueConstraint("workshop", "device", "sequence"),
    )
    op.create_index("log_entries_of_a_job", "log_entries", ["workshop", "job", "position"])
    op.create_index("log_entries_for_everyone", "log_entries", ["workshop", "shared", "position"])
    op.create_table(
        "log_refused",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("device", sa.String(36), nullable=False),
        sa.Column("sequence", sa.Integer, nullable=False),
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
        sa.Column("signature", sa.Text, nullable=False),
        sa.Column("code", sa.String(40), nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("received", sa.String(24), nullable=False),
        sa.PrimaryKeyConstraint("workshop", "device", "sequence"),
    )
    op.create_index("log_refused_by_id", "log_refused", ["workshop", "id"])
    op.create_table(
        "log_strays",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("device", sa.String(36), nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
        sa.Column("signature", sa.Text, nullable=False),
        sa.Column("code", sa.String(40), nullable=False),
        sa.Column("received", sa.String(24), nullable=False),
        sa.PrimaryKeyConstraint("workshop", "device", "hash"),
    )
    op.create_table(
        "log_heads",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("root", sa.String(64), nullable=False),
        sa.Column("time", sa.String(24), nullable=False),
        sa.Column("epoch", sa.String(64), nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
        sa.Column("signature", sa.String(88), nullable=False),
        sa.Column("peaks", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("workshop", "size"),
    )
    op.create_table(
        "log_nodes",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("level", sa.Integer, nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("hash", sa.LargeBinary(32), nullable=False),
        sa.PrimaryKeyConstraint("workshop", "level", "place"),
    )
    if op.get_bind().dialect.name == "sqlite":
        for table in ADD_ONLY:
            for verb in ("UPDATE", "DELETE"):
                op.execute(
                    f"CREATE TRIGGER {table}_never_{verb.lower()} BEFORE {verb} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, '{table}: evidence is added, never changed'); END"
                )
