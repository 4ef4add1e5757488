"""How many records each job has, under a root that heads carry. Empty here: the next append counts the log."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade():
    op.create_table(
        "log_jobs",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("job", sa.String(36), nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("count", sa.Integer, nullable=False),
        sa.Column("last", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("workshop", "job"),
    )
    op.create_table(
        "log_job_nodes",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("level", sa.Integer, nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("hash", sa.LargeBinary(32), nullable=False),
        sa.PrimaryKeyConstraint("workshop", "level", "place"),
    )
