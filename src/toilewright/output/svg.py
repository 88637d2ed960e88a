"""All pieces as one SVG in true millimetres, a named group for each piece and each kind of line."""

from __future__ import annotations

import os

from toilewright.draw.figure import Figure, Pen
from toilewright.files import replacing
from toilewright.output.layout import arrange
from toilewright.output.piece_figure import garment_figures
from toilewright.output.sheet import ROLL
from toilewright.output.svg_ink import add_figure, add_group, svg_bytes, svg_root
from toilewright.pattern.garment import Garment


def write_svg(garment: Garment, path: str | os.PathLike[str], *, title: str = "Pattern pieces", note: str = "",
              unit: str = "cm") -> None:
    """Write all pieces side by side (SVG; one user unit is 1 mm; curves stay curves).

    Args:
        path: SVG to write; replaced in one step.
        note: size or for whom; stands on every piece.
        unit: ``cm`` or ``in``, for the allowance words.
    """
    figures = garment_figures(garment, note, unit)
    sheet, width, height = arrange(figures, ROLL)
    root = svg_root((0.0, 0.0, width, height), title)
    for figure in figures:
        group = add_group(root, figure.title)
        for pen in Pen:
            marks = tuple(m for m in sheet.marks if m.layer == figure.title and m.pen is pen)
            if marks:
                inner = add_group(group, f"{figure.title} {pen.value}")
                add_figure(inner, Figure(marks))
        words = tuple(c for c in sheet.captions if c.layer == figure.title)
        add_figure(add_group(group, f"{figure.title} words"), Figure((), words))
    with replacing(path) as name, open(name, "wb") as file:
        file.write(svg_bytes(root))
