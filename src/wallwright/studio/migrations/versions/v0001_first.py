"""The first tables."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Forward."""
    op.create_table(
        "answer",
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("data", sa.Text(), nullable=False),
        sa.Column("made", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_answer")),
    )
    op.create_table(
        "audit",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.Column("who", sa.String(length=80), nullable=False),
        sa.Column("what", sa.String(length=40), nullable=False),
        sa.Column("job", sa.String(length=32), nullable=True),
        sa.Column("detail", sa.Text(), nullable=False),
        sa.Column("address", sa.String(length=64), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_audit")),
    )
    op.create_index(op.f("ix_audit_at"), "audit", ["at"], unique=False)
    op.create_table(
        "job",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("file", sa.Text(), nullable=True),
        sa.Column("head", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("archived", sa.Boolean(), nullable=False),
        sa.Column("made", sa.Float(), nullable=False),
        sa.Column("changed", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job")),
        sa.UniqueConstraint("file", name=op.f("uq_job_file")),
    )
    op.create_table(
        "person",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=64), nullable=False),
        sa.Column("role", sa.String(length=16), nullable=False),
        sa.Column("secret", sa.Text(), nullable=False),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.Column("made", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("name", name=op.f("uq_person_name")),
    )
    op.create_table(
        "text",
        sa.Column("sha", sa.String(length=64), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("sha", name=op.f("pk_text")),
    )
    op.create_table(
        "answer_file",
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("data", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["key"], ["answer.key"], name=op.f("fk_answer_file_key")),
        sa.PrimaryKeyConstraint("key", "name", name=op.f("pk_answer_file")),
    )
    op.create_table(
        "link",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("token", sa.String(length=64), nullable=False),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("role", sa.String(length=16), nullable=False),
        sa.Column("label", sa.String(length=80), nullable=False),
        sa.Column("price", sa.Boolean(), nullable=False),
        sa.Column("who", sa.String(length=80), nullable=False),
        sa.Column("made", sa.Float(), nullable=False),
        sa.Column("ends", sa.Float(), nullable=False),
        sa.Column("revoked", sa.Float(), nullable=True),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_link_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_link")),
        sa.UniqueConstraint("token", name=op.f("uq_link_token")),
    )
    op.create_index(op.f("ix_link_job"), "link", ["job"], unique=False)
    op.create_table(
        "moment",
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("back", sa.Integer(), nullable=True),
        sa.Column("forward", sa.Integer(), nullable=True),
        sa.Column("says", sa.Text(), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=True),
        sa.Column("sha", sa.String(length=64), nullable=False),
        sa.Column("who", sa.String(length=80), nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_moment_job")),
        sa.ForeignKeyConstraint(["sha"], ["text.sha"], name=op.f("fk_moment_sha")),
        sa.PrimaryKeyConstraint("job", "number", name=op.f("pk_moment")),
    )
    op.create_table(
        "move",
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("moment", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(length=8), nullable=False),
        sa.Column("who", sa.String(length=80), nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_move_job")),
        sa.PrimaryKeyConstraint("job", "position", name=op.f("pk_move")),
    )
    op.create_table(
        "reading",
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("field", sa.Text(), nullable=False),
        sa.Column("taken", sa.Float(), nullable=False),
        sa.Column("state", sa.String(length=8), nullable=False),
        sa.Column("says", sa.Text(), nullable=False),
        sa.Column("who", sa.String(length=80), nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_reading_job")),
        sa.PrimaryKeyConstraint("job", "id", name=op.f("pk_reading")),
    )
    op.create_table(
        "sign_in",
        sa.Column("token", sa.String(length=64), nullable=False),
        sa.Column("person", sa.String(length=32), nullable=False),
        sa.Column("seen", sa.Float(), nullable=False),
        sa.Column("ends", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["person"], ["person.id"], name=op.f("fk_sign_in_person")),
        sa.PrimaryKeyConstraint("token", name=op.f("pk_sign_in")),
    )
    op.create_index(op.f("ix_sign_in_person"), "sign_in", ["person"], unique=False)
    op.create_table(
        "study",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("kind", sa.String(length=16), nullable=False),
        sa.Column("question", sa.Text(), nullable=False),
        sa.Column("key", sa.String(length=64), nullable=False),
        sa.Column("sha", sa.String(length=64), nullable=False),
        sa.Column("folder", sa.Text(), nullable=False),
        sa.Column("state", sa.String(length=9), nullable=False),
        sa.Column("share", sa.Float(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("error", sa.Text(), nullable=False),
        sa.Column("worker", sa.String(length=32), nullable=True),
        sa.Column("lease", sa.Float(), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("who", sa.String(length=80), nullable=False),
        sa.Column("made", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_study_job")),
        sa.ForeignKeyConstraint(["sha"], ["text.sha"], name=op.f("fk_study_sha")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_study")),
    )
    op.create_index(op.f("ix_study_job"), "study", ["job"], unique=False)
    op.create_index(op.f("ix_study_key"), "study", ["key"], unique=False)
    op.create_index("ix_study_state", "study", ["state", "made"], unique=False)
    op.create_table(
        "tick",
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("role", sa.String(length=16), nullable=False),
        sa.Column("check", sa.String(length=80), nullable=False),
        sa.Column("done", sa.Boolean(), nullable=False),
        sa.Column("found", sa.Text(), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("revision", sa.String(length=2), nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_tick_job")),
        sa.PrimaryKeyConstraint("job", "role", "check", name=op.f("pk_tick")),
    )
    op.create_table(
        "approval",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("link", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("revision", sa.String(length=2), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("sha", sa.String(length=64), nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_approval_job")),
        sa.ForeignKeyConstraint(["link"], ["link.id"], name=op.f("fk_approval_link")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_approval")),
    )
    op.create_index(op.f("ix_approval_job"), "approval", ["job"], unique=False)
    op.create_table(
        "comment",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("job", sa.String(length=32), nullable=False),
        sa.Column("link", sa.String(length=32), nullable=True),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("revision", sa.String(length=2), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("at", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["job"], ["job.id"], name=op.f("fk_comment_job")),
        sa.ForeignKeyConstraint(["link"], ["link.id"], name=op.f("fk_comment_link")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_comment")),
    )
    op.create_index(op.f("ix_comment_job"), "comment", ["job"], unique=False)
    # ### end Alembic commands ###


def downgrade() -> None:
    """Back."""
    op.drop_index(op.f("ix_comment_job"), table_name="comment")
    op.drop_table("comment")
    op.drop_index(op.f("ix_approval_job"), table_name="approval")
    op.drop_table("approval")
    op.drop_table("tick")
    op.drop_index("ix_study_state", table_name="study")
    op.drop_index(op.f("ix_study_key"), table_name="study")
    op.drop_index(op.f("ix_study_job"), table_name="study")
    op.drop_table("study")
    op.drop_index(op.f("ix_sign_in_person"), table_name="sign_in")
    op.drop_table("sign_in")
    op.drop_table("reading")
    op.drop_table("move")
    op.drop_table("moment")
    op.drop_index(op.f("ix_link_job"), table_name="link")
    op.drop_table("link")
    op.drop_table("answer_file")
    op.drop_table("text")
    op.drop_table("person")
    op.drop_table("job")
    op.drop_index(op.f("ix_audit_at"), table_name="audit")
    op.drop_table("audit")
    op.drop_table("answer")
    # ### end Alembic commands ###
