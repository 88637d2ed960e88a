"""Cloth from a shell: how much to buy, and how to lay it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import App, Parameter

from toilewright.cli_lay import lay
from toilewright.cli_room import Json
from toilewright.errors import InputError

Widths = Annotated[tuple[str, ...], Parameter(negative="", consume_multiple=True)]


def put_into(app: App) -> None:
    """The commands of cloth, beside the others."""
    for command in (cloth, lay):
        app.command(command)


def cloth(make_file: Path, *, widths: Widths = (), seconds: float = 3.0, out: Path | None = None,
          as_json: Json = False) -> None:
    """Say how much cloth to buy: for each width on sale the length, beside the envelope's figure, and what is saved.

    Parameters
    ----------
    make_file
        Your make file (TOML): which pattern, which tape sheet, which cloth.
    widths
        The widths on sale, such as 140cm or 45in; left out, the widths that shops usually have.
    seconds
        How long to search for the shortest lay of each width; 0 for a quick estimate.
    out
        The folder for the shopping list, cloth.pdf, with each lay to scale.
    """
    raise InputError("How much to buy cannot be told yet; lay the cloth with `toilewright lay` instead.")
