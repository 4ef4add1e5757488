"""Packs: which were asked for, how far they are, and what they came to."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = ("0002", "0003")


def upgrade():
    op.create_table(
        "packs",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("job", sa.String(36), nullable=False),
        sa.Column("sort", sa.String(12), nullable=False),
        sa.Column("asked_by", sa.String(36), nullable=False),
        sa.Column("created", sa.String(24), nullable=False),
        sa.Column("state", sa.String(12), nullable=False),
        sa.Column("done", sa.Integer, nullable=False),
        sa.Column("total", sa.Integer, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("size", sa.BigInteger),
        sa.Column("sha256", sa.String(64)),
    )
    op.create_index("packs_of_a_job", "packs", ["workshop", "job", "created"])
    op.create_index("packs_by_state", "packs", ["state", "created"])
