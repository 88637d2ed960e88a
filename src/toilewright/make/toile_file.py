"""Files of a toile: a reading that was accepted written into the make file, and the picture of what it will show."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from toilewright.body.sheet import read_sheet
from toilewright.draw.figure import Figure
from toilewright.errors import FileError, InputError
from toilewright.files import replacing
from toilewright.fit.toile.answer import Reading
from toilewright.fit.toile.drawing import APART, prediction_figure
from toilewright.fit.toile.predict import Prediction
from toilewright.make.outcome import Sized
from toilewright.make.recipe import toile_name
from toilewright.make.toile import ToileRead, next_number, sewn_for
from toilewright.units import MM_PER_INCH

if TYPE_CHECKING:
    from tomlkit import TOMLDocument
    from tomlkit.items import Table


def write_reading(path: str | os.PathLike[str], read: ToileRead, accepted: Sequence[Reading], unit: str) -> None:
    """Add a toile, what was seen on it, and the readings accepted, at the end of a make file.

    Raises:
        FileError: the file cannot be read or written.
        InputError: the file has the word "toile" or "alteration" for something else.
    """
    import tomlkit

    path = Path(path)
    read_sheet(path, "make file")
    document = tomlkit.parse(path.read_bytes().decode("utf-8-sig"))
    for one in accepted:
        _add(document, "alteration", _alteration(one, read.number, unit), path)
    _add(document, "toile", _toile(read, unit), path)
    try:
        with replacing(path) as name:
            Path(name).write_text(tomlkit.dumps(document), encoding="utf-8")
    except OSError as problem:
        raise FileError(f'The reading cannot be written into "{path}" ({problem.strerror}); see that the file may be '
                        "changed.") from None


def draw_prediction(sized: Sized, told: Sequence[tuple[str, Prediction]], path: str | os.PathLike[str]) -> None:
    """Write the picture of what the next toile will show: her places on the pieces (SVG; both sides of an uneven figure
    beside each other).

    Raises:
        FileError: it cannot be written.
    """
    from toilewright.output.svg_ink import add_figure, add_ground, svg_bytes, svg_root

    halves = dict(zip(("left", "right"), sewn_for(sized, next_number(sized)).halves, strict=True))
    drawn, right = Figure(title="what the toile will show"), 0.0
    for side, one in told:
        figure = prediction_figure(halves.get(side, halves["left"]), one)
        drawn = drawn.plus(figure.mapped(lambda z, by=right: z + by))
        right = drawn.whole()[2] + 2 * APART
    x0, y0, x1, y1 = drawn.whole()
    root = svg_root((x0 - APART, y0 - APART, x1 + APART, y1 + APART), drawn.title)
    add_ground(root)
    add_figure(root, drawn, _BOLD)
    try:
        with replacing(path) as name:
            Path(name).write_bytes(svg_bytes(root))
    except OSError as problem:
        raise FileError(f'The picture cannot be written to "{path}" ({problem.strerror}); name another file.') from None


_BOLD = 4.0
"""times; lines of a picture half a metre high that is looked at a hand high."""


def _add(document: TOMLDocument, key: str, row: Table, path: Path) -> None:
    """One more repeated table, a blank line before it."""
    from tomlkit import aot
    from tomlkit.items import AoT

    if key not in document:
        document.append(key, aot())
    rows = document[key]
    if not isinstance(rows, AoT):
        raise InputError(f'"{key}" of make file "{path.name}" should be repeated; start each with a line [[{key}]].')
    row.trivia.indent = "\n"
    rows.append(row)


def _toile(read: ToileRead, unit: str) -> Table:
    import tomlkit

    row = tomlkit.table()
    if read.date:
        row["date"] = read.date
    row["saw"] = [one.say(unit) for one in read.saw]
    return row


def _alteration(one: Reading, number: int, unit: str) -> Table:
    import tomlkit

    row = tomlkit.table()
    row["name"] = one.alteration
    row["amount"] = written(one.amount.value, unit)
    row["plus_minus"] = written(one.amount.spread or 0.0, unit)
    for key, value in one.options.items():
        row[key.replace(" ", "_")] = value
    row["from"] = toile_name(number)
    return row


def written(mm: float, unit: str) -> str:
    """A length as she would write it, exact to a tenth of a millimetre.

    >>> written(-20.0, "cm"), written(19.05, "in")
    ('-2 cm', '0.75 in')
    """
    return f"{round(mm / MM_PER_INCH, 3):g} in" if unit == "in" else f"{round(mm / 10, 2):g} cm"
