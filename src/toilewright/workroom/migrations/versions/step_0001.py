"""The first tables."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Things with their revisions, files, what was computed, settings."""
    op.create_table(
        "thing",
        sa.Column("id", sa.String(40), nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_thing"))
    op.create_index("ix_thing_kind", "thing", ["kind"])
    op.create_table(
        "revision",
        sa.Column("thing", sa.String(40), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sa.Column("digest", sa.String(16), nullable=False, comment="of the document"),
        sa.Column("way", sa.String(20), nullable=False, comment="how it came about"),
        sa.Column("words", sa.Text, nullable=False, comment="what was done, in her words"),
        sa.Column("at", sa.String(40), nullable=False, comment="UTC, ISO 8601"),
        sa.Column("device", sa.Text, nullable=False),
        sa.Column("removed", sa.Boolean, nullable=False),
        sa.Column("state", sa.Integer, nullable=False, comment="the revision that first had this document"),
        sa.Column("before", sa.Integer, comment="the state that undoing puts back"),
        sa.Column("tip", sa.Integer, nullable=False, comment="the state that redoing leads to in the end"),
        sa.Column("undo", sa.Text, comment="words of what undoing takes back"),
        sa.Column("redo", sa.Text, comment="words of what redoing does again"),
        sa.Column("seal", sa.String(16), nullable=False, comment="of all the other columns"),
        sa.ForeignKeyConstraint(["thing"], ["thing.id"], name="fk_revision_thing"),
        sa.PrimaryKeyConstraint("thing", "number", name="pk_revision"))
    op.create_table(
        "file",
        sa.Column("sha", sa.String(64), nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("sha", name="pk_file"))
    op.create_table(
        "kept",
        sa.Column("key", sa.String(200), nullable=False),
        sa.Column("at", sa.String(40), nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.Column("data", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("key", name="pk_kept"))
    op.create_table(
        "setting",
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("value", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_setting"))
