"""The steps lead to the very tables that a new store is made with."""

import sqlite3
import subprocess
import sys

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import create_engine, event, select

from toilewright.errors import FileError
from toilewright.workroom import schema
from toilewright.workroom.backups import backups, is_sound
from toilewright.workroom.database import is_server, on_server
from toilewright.workroom.documents import ClothDoc, Kind
from toilewright.workroom.folder import open_folder
from toilewright.workroom.upgrading import bring_up_to_date, create_tables


@pytest.fixture
def engine(new_address, tmp_path):
    address = new_address()
    if is_server(address):
        one = create_engine(address.replace("postgresql:", "postgresql+psycopg:"))
    else:
        one = create_engine("sqlite://", creator=lambda: sqlite3.connect(tmp_path / "x.db", isolation_level=None))
        event.listen(one, "begin", lambda connection: connection.exec_driver_sql("BEGIN"))
    yield one
    one.dispose()


def test_all_steps_from_nothing_lead_to_the_newest_tables(engine):
    with engine.begin() as connection:
        bring_up_to_date(connection)
    with engine.begin() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True, "compare_server_default": True})
        assert compare_metadata(context, schema.metadata) == []
        assert connection.scalar(select(schema.version)) == schema.VERSION


def test_a_new_store_has_the_newest_tables(engine):
    with engine.begin() as connection:
        create_tables(connection)
    with engine.begin() as connection:
        assert compare_metadata(MigrationContext.configure(connection), schema.metadata) == []
        bring_up_to_date(connection)
        assert connection.scalar(select(schema.version)) == schema.VERSION


def test_a_step_that_breaks_off_leaves_nothing(engine):
    with pytest.raises(ZeroDivisionError), engine.begin() as connection:
        bring_up_to_date(connection)
        raise ZeroDivisionError
    with engine.begin() as connection:
        assert not engine.dialect.get_table_names(connection)


def test_a_store_that_is_up_to_date_is_opened_without_the_library_for_steps(on_disk, folder, tmp_path):
    on_disk.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    code = ("import sys; from toilewright.workroom.store import Workroom; Workroom.open(sys.argv[1]).close(); "
            "print([m for m in ('alembic', 'psycopg', 'numpy', 'shapely', 'reportlab') if m in sys.modules])")
    done = subprocess.run([sys.executable, "-W", "error", "-c", code, folder], capture_output=True, text=True,
                          check=True)
    assert done.stdout.strip() == "[]"


def test_an_older_store_is_backed_up_before_the_steps_are_taken(on_disk, folder, monkeypatch, clock, open_room):
    """As a program of the next version does, whose steps have nothing to do here yet."""
    thing = on_disk.add(Kind.CLOTH, ClothDoc("crêpe"), "new")
    on_disk.close()
    monkeypatch.setattr(schema, "VERSION", "0002")
    open_folder(folder, clock).close()
    assert len(backups(folder)) == 1 and is_sound(backups(folder)[0].path)
    monkeypatch.undo()
    assert open_room(folder).get(thing.id) == thing


def test_a_server_that_somebody_else_uses_is_left_alone(postgres):
    import psycopg

    address = postgres.new_database()
    with psycopg.connect(address) as connection:
        connection.execute("CREATE TABLE thing (soup text)")
    with pytest.raises(FileError, match="another program"):
        on_server(address)


def test_a_server_of_a_newer_program_is_left_alone(postgres):
    import psycopg

    address = postgres.new_database()
    on_server(address).close()
    with psycopg.connect(address) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '0999'")
    with pytest.raises(FileError, match="newer toilewright"):
        on_server(address)
