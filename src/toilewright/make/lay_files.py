"""The files of a cutting-out: the lay for machines, and to follow on the table."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

from toilewright.make.deliver import write_files
from toilewright.make.lay_result import laying_result
from toilewright.make.laying import Laying
from toilewright.output.lay_sheet import LaySheet, pieces_by_key

FILES = ("lay.json", "lay.svg", "lay.pdf")


def write_laying(laying: Laying, out: str | os.PathLike[str]) -> tuple[Path, ...]:
    """Write every file of a cutting-out into a folder, all of them or none.

    Raises:
        FileError: the folder cannot be made or written to.
    """
    return write_files(writers_of(laying), out)


def writers_of(laying: Laying) -> dict[str, Callable[[Path], None]]:
    """By name of the file, what writes it to a path."""
    return {"lay.json": lambda p: _write_json(laying, p), "lay.svg": lambda p: _write_svg(laying, p),
            "lay.pdf": lambda p: _write_pdf(laying, p)}


def lay_sheets(laying: Laying) -> tuple[LaySheet, ...]:
    """The lays with all that is written on them."""
    pieces, notes = pieces_by_key(laying.garments), dict(laying.notes)
    return tuple(LaySheet(lay, laying.title, laying.unit, pieces, notes) for lay in laying.lays)


def _write_json(laying: Laying, path: Path) -> None:
    path.write_text(json.dumps(laying_result(laying), indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def _write_svg(laying: Laying, path: Path) -> None:
    from toilewright.output.lay_svg import write_lay_svg

    write_lay_svg(lay_sheets(laying), path)


def _write_pdf(laying: Laying, path: Path) -> None:
    from toilewright.output.lay_pdf import write_lay_pdf

    write_lay_pdf(lay_sheets(laying), path)
