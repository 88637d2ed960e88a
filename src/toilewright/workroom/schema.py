"""The tables. A thing is a row; every revision of it is a row that is never changed; files lie beside them."""

from __future__ import annotations

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
)

VERSION = "0001"
"""The newest schema; the number of the last step in ``migrations/versions``."""

metadata = MetaData(naming_convention={
    "pk": "pk_%(table_name)s", "fk": "fk_%(table_name)s_%(column_0_name)s",
    "ix": "ix_%(table_name)s_%(column_0_name)s"})

thing = Table(
    "thing", metadata,
    Column("id", String(40), primary_key=True),
    Column("kind", String(20), nullable=False),
    Index("ix_thing_kind", "kind"))

revision = Table(
    "revision", metadata,
    Column("thing", String(40), ForeignKey("thing.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("document", Text, nullable=False),
    Column("digest", String(16), nullable=False, comment="of the document"),
    Column("way", String(20), nullable=False, comment="how it came about"),
    Column("words", Text, nullable=False, comment="what was done, in her words"),
    Column("at", String(40), nullable=False, comment="UTC, ISO 8601"),
    Column("device", Text, nullable=False),
    Column("removed", Boolean, nullable=False),
    Column("state", Integer, nullable=False, comment="the revision that first had this document"),
    Column("before", Integer, comment="the state that undoing puts back"),
    Column("tip", Integer, nullable=False, comment="the state that redoing leads to in the end"),
    Column("undo", Text, comment="words of what undoing takes back"),
    Column("redo", Text, comment="words of what redoing does again"),
    Column("seal", String(16), nullable=False, comment="of all the other columns"),
    PrimaryKeyConstraint("thing", "number"))

file = Table(
    "file", metadata,
    Column("sha", String(64), primary_key=True),
    Column("size", Integer, nullable=False),
    Column("data", LargeBinary, nullable=False))

kept = Table(
    "kept", metadata,
    Column("key", String(200), primary_key=True),
    Column("at", String(40), nullable=False),
    Column("size", Integer, nullable=False),
    Column("data", LargeBinary, nullable=False))

setting = Table(
    "setting", metadata,
    Column("name", String(200), primary_key=True),
    Column("value", Text, nullable=False))

version = Table("alembic_version", MetaData(),
                Column("version_num", String(32), primary_key=True, nullable=False))
"""Where the steps of ``migrations`` keep which of them is the last that was made."""
