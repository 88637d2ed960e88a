"""A pattern without a file: tissue laid flat, its lengths read off with a tape, and a stand-in that has those lengths.

The stand-in is our own block, so size advice, real ease, amounts and cards come out of the same code as for drawn
pieces; only what the tape told is read off it, with the tape's uncertainty. Its pieces are never printed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from toilewright.errors import Finding, GeometryError, Severity
from toilewright.intake.label_types import Labels
from toilewright.intake.raw import RawPattern
from toilewright.make.flat_sheet import FlatSheet, read_flat_sheet
from toilewright.make.reading import Reading
from toilewright.make.stand_in import StandIn, graded, stand_in
from toilewright.pattern.garment import Garment
from toilewright.pattern.nest import Pattern
from toilewright.units import show_length

ODD = 20.0
"""mm; a length farther than this from our block deserves a second look."""

STAND_IN = "stand-in"
"""Code of the finding that says what the pieces are, and why none is printed."""


def read_by_tape(path: Path | str) -> Reading:
    """A flat sheet as a pattern that size, fit and make can work with.

    Raises:
        FileError: the sheet cannot be read.
        InputError: an entry that cannot be used, or lengths that no garment has together.
    """
    return reading_of(read_flat_sheet(path))


def reading_of(sheet: FlatSheet) -> Reading:
    """As :func:`read_by_tape`, of a flat sheet at hand.

    Raises:
        InputError: lengths that no garment has together.
    """
    found = stand_in(sheet)
    garments, lost = _nest(sheet, found)
    told = (*_findings(sheet, found), *lost)
    names = tuple(garments)
    pattern = Pattern(sheet.name, names, tuple(garments.values()), sheet.chart, sheet.cloth)
    raw = RawPattern(names, (), sheet.allowance, "cutting" if sheet.allowance else "seam", None)
    labels = Labels(sheet.name, sheet.allowance, raw.line, tuple((n, n) for n in names), (), (), sheet.chart,
                    sheet.cloth)
    return Reading(raw, labels, pattern, told, True, by_tape=True)


def _nest(sheet: FlatSheet, found: StandIn) -> tuple[dict[str, Garment], tuple[Finding, ...]]:
    """The stand-in in every size of the envelope's chart that can be drawn."""
    garments, lost = {}, []
    for size in sheet.chart.sizes if sheet.chart else (sheet.size,):
        try:
            garments[size] = graded(sheet, found, size)
        except GeometryError:
            lost.append(size)
    if not lost:
        return garments, ()
    text = (f'Size {", ".join(lost)} of "{sheet.name}" is too far from size {sheet.size}, on which the tape lay, to be '
            "told from it; take its own lengths.")
    return garments, (Finding("size-lost", text, Severity.NOTE),)


def _findings(sheet: FlatSheet, found: StandIn) -> Iterator[Finding]:
    yield Finding(STAND_IN, (
        f'"{sheet.name}" is known by {len(sheet.lengths)} lengths off the tissue of size {sheet.size}: our '
        "own block with those lengths stands in for it in sums and pictures. Alter the tissue by the cards; pieces are "
        "not printed, as they would be ours and not the pattern's."), Severity.NOTE)
    for name, more in found.apart.items():
        here, ours = (show_length(v, sheet.unit) for v in (sheet.lengths[name].value, sheet.lengths[name].value - more))
        yield Finding("shaped-otherwise", (
            f'"{name}" of the tissue is {here}; our block with all the other lengths has {ours}. Sums go by the '
            "tissue; the pictures are that much off" + ("." if abs(more) < ODD else ", so lay the tape again there.")),
            Severity.NOTE if abs(more) < ODD else Severity.LOOK)
    drawn = [m for m in found.untaken if m not in found.by_chart]
    if found.by_chart:
        yield Finding("by-chart", f"Drawn by the envelope's chart, as no length tells it: {_listed(found.by_chart)}.",
                      Severity.NOTE)
    if drawn:
        yield Finding("by-block", f"Drawn as our own blocks have it, as nothing tells it: {_listed(drawn)}; nothing is "
                      "worked out from that.", Severity.NOTE)
    if sheet.chart is None:
        yield Finding("one-size", (f"The flat sheet has no body chart, so only size {sheet.size} is known; copy the "
                                   "chart from the envelope to have sizes compared."), Severity.NOTE)


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:6])
    return f"{shown} and {len(names) - 6} more" if len(names) > 6 else shown
