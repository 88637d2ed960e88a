"""Rows that are put in place of one of the same key, on either kind of database."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, Table


def put(connection: Connection, table: Table, row: dict[str, Any], replace: bool = True) -> None:
    """Write a row; where its key is taken, in place of what stands there, or not at all."""
    if connection.dialect.name == "sqlite":
        from sqlalchemy.dialects.sqlite import insert
    else:
        from sqlalchemy.dialects.postgresql import insert
    asked = insert(table).values(**row)
    keys = [column.name for column in table.primary_key]
    if replace:
        others = {name: asked.excluded[name] for name in row if name not in keys}
        connection.execute(asked.on_conflict_do_update(index_elements=keys, set_=others))
    else:
        connection.execute(asked.on_conflict_do_nothing(index_elements=keys))
