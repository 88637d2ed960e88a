"""Tissue that was measured with a tape, between its document and what reads it."""

from __future__ import annotations

import tempfile
from pathlib import Path

from toilewright.errors import InputError
from toilewright.fit.flat import flat_of
from toilewright.make.flat_sheet import Taken, added_up, read_taken
from toilewright.make.reading import Reading
from toilewright.make.takings import Taking, takings_on
from toilewright.make.tissue_kinds import find_kind
from toilewright.pattern.nest import BodyChart
from toilewright.workroom.documents import PatternDoc, TissueSheet


def tissue_of(taken: Taken) -> TissueSheet:
    """The document of what stands on a flat sheet."""
    chart = taken.chart
    return TissueSheet(taken.kind.name, taken.unit, taken.size, taken.allowance, dict(taken.lengths),
                       chart.sizes if chart else (), dict(chart.rows) if chart else {})


def tissue_in(data: bytes, name: str) -> TissueSheet:
    """The document of a flat sheet's bytes.

    Raises:
        InputError: they cannot be used, said with the entry.
    """
    with tempfile.TemporaryDirectory(prefix="toilewright-") as folder:
        path = Path(folder) / Path(name).name
        path.write_bytes(data)
        return tissue_of(read_taken(path))


def taken_of(name: str, tissue: TissueSheet, unit: str = "") -> Taken:
    """What the tape has told so far: halves of which the other half is not taken yet are left out.

    Args:
        unit: of sentences; "" for the one of her tape.

    Raises:
        InputError: the kind of garment is not known any more.
    """
    kind = find_kind(tissue.garment, f'the pattern "{name}"')
    waiting = {t.name for t in halves_waiting(tissue)}
    names = {t.name for t in takings_on(kind.block())} | set(flat_of(kind.block()).lengths)
    lengths = {n: mm for n, mm in tissue.lengths.items() if n in names - waiting}
    return Taken(name, kind, tissue.size or "?", tissue.allowance or 0.0, unit or tissue.unit, lengths,
                 chart_of(tissue))


def halves_waiting(tissue: TissueSheet) -> tuple[Taking, ...]:
    """Takings that are there and do not count yet, as what belongs to them is not taken."""
    takings = takings_on(find_kind(tissue.garment, "the pattern").block())
    lacking = {t.makes for t in takings if t.name not in tissue.lengths}
    return tuple(t for t in takings if t.name in tissue.lengths and t.makes in lacking)


def chart_of(tissue: TissueSheet) -> BodyChart | None:
    """The envelope's chart as far as its rows are whole; None where it cannot be used yet."""
    rows = tuple((name, tuple(row)) for name, row in tissue.chart.items() if len(row) == len(tissue.sizes))
    return BodyChart(tissue.sizes, rows) if rows and tissue.size in tissue.sizes else None


def read_tissue(doc: PatternDoc, unit: str = "") -> Reading:
    """The pattern that stands in for the tissue.

    Args:
        unit: of sentences; "" for the one of her tape.

    Raises:
        InputError: something is lacking yet, or the lengths do not go together.
    """
    from toilewright.make.by_tape import reading_of

    assert doc.tissue is not None
    if not doc.tissue.size:
        raise InputError(f'"{doc.name}" does not say yet on which size the tape lies; write the one that is printed '
                         "there.")
    if not doc.tissue.lengths:
        raise InputError(f'"{doc.name}" has no lengths yet; lay the tape, and write the first ones.')
    if doc.tissue.allowance is None:
        raise InputError(f'"{doc.name}" does not say yet whether allowances are included; write their width, or 0.')
    return reading_of(added_up(taken_of(doc.name, doc.tissue, unit), f'flat sheet of "{doc.name}"'))
