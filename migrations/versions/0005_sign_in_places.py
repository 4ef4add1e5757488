"""Sign-in places: the addresses from which a person signed in before."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade():
    op.create_table(
        "sign_in_places",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("person", sa.String(36), nullable=False),
        sa.Column("address", sa.String(64), nullable=False),
        sa.Column("last", sa.Float, nullable=False),
        sa.PrimaryKeyConstraint("workshop", "person", "address"),
    )
