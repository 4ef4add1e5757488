"""People: the workshop, its persons, phones, invitations, sessions, failed sign-ins, and the owners of vehicles."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0001"


def upgrade():
    op.create_table(
        "workshops",
        sa.Column("id", sa.String(36), primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("desk", sa.String(36), nullable=False),
        sa.Column("founded", sa.String(24), nullable=False),
    )
    op.create_table(
        "persons",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("sign_in_name", sa.Text, nullable=False),
        sa.Column("role", sa.String(12), nullable=False),
        sa.Column("active", sa.Boolean, nullable=False),
        sa.Column("password", sa.Text),
        sa.Column("pin", sa.Text),
        sa.PrimaryKeyConstraint("workshop", "id"),
        sa.UniqueConstraint("workshop", "sign_in_name"),
    )
    op.create_table(
        "devices",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("id", sa.String(36), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("letter", sa.String(4), nullable=False),
        sa.Column("platform", sa.Text, nullable=False),
        sa.Column("public_key", sa.Text, nullable=False),
        sa.Column("token", sa.String(64)),
        sa.Column("enrolled", sa.String(24), nullable=False),
        sa.Column("revoked", sa.String(24)),
        sa.Column("revoked_reason", sa.Text, nullable=False),
        sa.Column("last_seen", sa.String(24)),
        sa.Column("announced", sa.Integer, nullable=False),
        sa.Column("clock_offset_ms", sa.Integer),
        sa.PrimaryKeyConstraint("workshop", "id"),
        sa.UniqueConstraint("workshop", "letter"),
    )
    op.create_index("devices_by_token", "devices", ["token"], unique=True)
    op.create_table(
        "invitations",
        sa.Column("code", sa.String(64), primary_key=True),
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("invited_by", sa.String(36), nullable=False),
        sa.Column("expires", sa.Float, nullable=False),
        sa.Column("used_by", sa.String(36)),
    )
    op.create_table(
        "sessions",
        sa.Column("token", sa.String(64), primary_key=True),
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("person", sa.String(36), nullable=False),
        sa.Column("expires", sa.Float, nullable=False),
    )
    op.create_table(
        "attempts",
        sa.Column("who", sa.Text, primary_key=True),
        sa.Column("failures", sa.Integer, nullable=False),
        sa.Column("last", sa.Float, nullable=False),
    )
    op.create_table(
        "owners",
        sa.Column("workshop", sa.String(36), nullable=False),
        sa.Column("job", sa.String(36), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("phone", sa.Text, nullable=False),
        sa.Column("mail", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("workshop", "job"),
    )
