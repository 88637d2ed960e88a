"""All pieces on one wide sheet, for a copy shop's plotter."""

from __future__ import annotations

import os

from toilewright.files import replacing
from toilewright.output.cover import SQUARE, draw_steps, draw_test_square
from toilewright.output.layout import GAP, arrange
from toilewright.output.paper import canvas, draw_figure, write
from toilewright.output.piece_figure import garment_figures
from toilewright.pattern.garment import Garment

ROLL = 914.0
"""mm; the usual plotter roll (36 in)."""

_HEAD = SQUARE + 2 * GAP

_STEPS = (
    "Print at 100 % (actual size). Measure the square before cutting: each side must be 10.0 cm, the line 4 in.",
    "Plain outer lines are cut, dashed lines are sewn; the long arrow lies along the grain.",
    "Blades and hot irons: cut away from the hand, and iron paper dry and cool.",
)


def sheet_size(garment: Garment, *, width: float = ROLL, note: str = "", unit: str = "cm") -> tuple[float, float]:
    """How wide and how long the sheet is that :func:`write_sheet` writes (mm)."""
    _, wide, height = arrange(garment_figures(garment, note, unit), width)
    return wide, height + _HEAD


def write_sheet(garment: Garment, path: str | os.PathLike[str], *, width: float = ROLL, title: str = "",
                note: str = "", unit: str = "cm") -> None:
    """Write all pieces on one page as wide as a roll of paper and as long as needed (PDF, true scale).

    Args:
        path: PDF to write; replaced in one step.
        width: of the roll (mm); a wider piece widens the page.
        title: printed at the head.
        note: size or for whom; stands on every piece.
        unit: ``cm`` or ``in``, for the allowance words.
    """
    figure, wide, height = arrange(garment_figures(garment, note, unit), width)
    with replacing(path) as name:
        pdf = canvas(name, wide, height + _HEAD, title or "Pattern pieces")
        draw_test_square(pdf, complex(GAP, height + GAP), inches=True)
        left = 2 * GAP + SQUARE
        y = height + _HEAD - GAP - 8
        write(pdf, title or "Pattern pieces", complex(left, y), 8.0, bold=True)
        if note:
            write(pdf, note, complex(left, y - 11), 4.0)
        draw_steps(pdf, _STEPS, (left, wide - GAP), y - 24, 3.0)
        draw_figure(pdf, figure)
        pdf.showPage()
        pdf.save()
