"""Lines that no piece can be made of: left out and told, so that the rest of the sheet is read all the same."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from toilewright.errors import FileError, Finding, GeometryError
from toilewright.geometry.point import Point
from toilewright.intake.outlines import place

BROKEN = (GeometryError, ArithmeticError, ValueError, LookupError)
"""What lines without length, or folded back on themselves, do to the geometry of a piece."""


def piece_lost(name: str, at: Point, size: str | None = None) -> Finding:
    """The finding that a piece was left out."""
    return Finding(
        "piece-lost", f'"{name}" ({place(at)}) was left out: its outline turns back on itself or has parts without '
        "length; draw that outline again in one plain line and read the file again.", piece=name, size=size)


@contextmanager
def in_her_words(name: str) -> Iterator[None]:
    """What geometry says of lines that it cannot follow, said of the file.

    Raises:
        FileError: in place of any error of geometry or arithmetic.
    """
    try:
        yield
    except BROKEN as problem:
        raise FileError(
            f'The lines of "{name}" could not be made into pieces: some of them have no length or turn back on '
            "themselves; join and simplify its outlines in a drawing program, export it again and read "
            "that.") from problem
