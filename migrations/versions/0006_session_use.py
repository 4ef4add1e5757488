"""When a session was last used: one that nobody uses ends before its time. Those under way end here."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0004"


def upgrade():
    op.add_column("sessions", sa.Column("seen", sa.Float, nullable=False, server_default="0"))
