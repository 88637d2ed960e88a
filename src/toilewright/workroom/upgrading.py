"""Tables made new, or brought up to date step by step; each whole or not at all.

The steps are in ``migrations/versions``. Alembic, which takes them, is loaded only where there is a step to take.
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, insert, inspect, select, text

from toilewright.errors import FileError
from toilewright.workroom import schema
from toilewright.workroom.health import check_version

STEPS = Path(__file__).parent / "migrations"

_TURN = 5_522_148_901
"""by which programs that open one database on a server take turns at making its tables."""


def create_tables(connection: Connection) -> None:
    """All tables, in an empty database."""
    schema.metadata.create_all(connection)
    schema.version.create(connection)
    connection.execute(insert(schema.version).values(version_num=schema.VERSION))


def bring_up_to_date(connection: Connection) -> None:
    """Take the steps from the tables that are there to the newest."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(STEPS).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def prepare_server(connection: Connection) -> None:
    """See that the tables are there and up to date.

    Raises:
        FileError: they are of a newer program, or the database is used for something else.
    """
    connection.execute(text("SELECT pg_advisory_xact_lock(:turn)"), {"turn": _TURN})
    names = set(inspect(connection).get_table_names())
    if not names & {schema.version.name, *schema.metadata.tables}:
        create_tables(connection)
        return
    version = connection.scalar(select(schema.version)) if schema.version.name in names else None
    if version is None or not version.isdecimal() or "revision" not in names:
        raise FileError("That database is used by another program; have one of its own made for the workroom.")
    check_version(version, "database on that server")
    if version != schema.VERSION:
        bring_up_to_date(connection)
