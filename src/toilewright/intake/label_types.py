"""What the labels say: the names and amounts that turn printed outlines into a pattern that can be altered."""

from __future__ import annotations

from dataclasses import dataclass, field

from toilewright.pattern.garment import Seam
from toilewright.pattern.nest import BodyChart
from toilewright.pattern.parts import Cut, EdgeKind

USUAL_ALLOWANCE = 15.0
"""mm; taken where the sheet or the labels say nothing (5/8 in or 1.5 cm on envelopes; common practice)."""


@dataclass(frozen=True, slots=True)
class EdgeLabel:
    """One stretch of a piece's outline, from corner to corner.

    Attributes:
        name: e.g. ``side seam``; the same name twice in a row makes one edge of two stretches.
        kind: what happens to it.
        allowance: what the printed outline adds to the seam line here (mm); 0 on a fold.
        starts: where the corner lies from which it runs, in words, for her to find it on the paper.
    """

    name: str
    kind: EdgeKind = EdgeKind.SEAM
    allowance: float = USUAL_ALLOWANCE
    starts: str = ""


@dataclass(frozen=True, slots=True)
class PieceLabel:
    """One piece.

    Attributes:
        printed: its name on the sheet.
        name: its name from here on.
        edges: in order, counter-clockwise, from its lowest left corner.
        darts, notches, lines: their names, in the order of the outline (lines: as the sheet lists them).
        bust_point_beyond: how far beyond the bust dart's point the bust point lies (mm); None to leave it out.
        cut: how it is cut.
    """

    printed: str
    name: str
    edges: tuple[EdgeLabel, ...]
    darts: tuple[str, ...] = ()
    notches: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    bust_point_beyond: float | None = None
    cut: Cut = field(default_factory=Cut)


@dataclass(frozen=True, slots=True)
class SeamLabel:
    """A seam, and whether she (or its lengths in all sizes) confirmed it."""

    seam: Seam
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class Labels:
    """All names and amounts of one pattern file.

    Attributes:
        name: of the pattern.
        allowance: the usual seam allowance (mm).
        line: ``cutting`` or ``seam``: what the printed outline is.
        sizes: (name on the sheet, name from here on), smallest first.
        chart: the envelope's body chart, by the sizes' new names; None when not known.
        cloth: recommended cloth, as printed.
    """

    name: str
    allowance: float
    line: str
    sizes: tuple[tuple[str, str], ...]
    pieces: tuple[PieceLabel, ...]
    seams: tuple[SeamLabel, ...] = ()
    chart: BodyChart | None = None
    cloth: str = ""
