"""Media: the register of originals that are here, and of the previews made of them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade():
    op.create_table(
        "media",
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("length", sa.BigInteger, nullable=False),
        sa.Column("type", sa.String(64), nullable=False),
        sa.Column("received", sa.String(24), nullable=False),
        sa.Column("looked", sa.String(24)),
        sa.Column("facts", sa.Text),
        sa.Column("fault", sa.Text),
    )
    op.create_index("media_to_look_at", "media", ["looked"])
    op.create_table(
        "media_preview",
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("source", sa.String(8), nullable=False),
        sa.Column("width", sa.Integer),
        sa.Column("height", sa.Integer),
        sa.Column("made", sa.String(24), nullable=False),
    )
