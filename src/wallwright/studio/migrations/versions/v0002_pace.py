"""Tries at a password, counted for all servers of a studio together."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Forward."""
    op.create_table(
        "pace",
        sa.Column("who", sa.String(length=64), nullable=False),
        sa.Column("left", sa.Float(), nullable=False),
        sa.Column("since", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("who", name=op.f("pk_pace")),
    )


def downgrade() -> None:
    """Back."""
    op.drop_table("pace")
