"""What a lay is: the pieces as they are cut, where each lies on the cloth, and what was checked.

Coordinates are mm on the cloth as it lies on the table: x along the selvedge from the cut end, y across. Where the
cloth is folded, y is 0 on the fold and grows towards the selvedges; pieces cut on the fold lie with their fold edge on
y = 0. A single strip beside a fold to a chosen depth follows at y > fold depth.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from toilewright.cutting.cloth import Cloth
from toilewright.geometry.point import Point
from toilewright.packing.problem import Pose


@dataclass(frozen=True, slots=True)
class Mark:
    """A named point of a piece, such as a balance mark or ``centre front``, in the frame of its cut piece.

    Attributes:
        edge: the edge that it lies on.
        count: of a balance mark, single or double; 0 for the end of an edge.
    """

    name: str
    at: Point
    edge: str = ""
    count: int = 0


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One piece of a garment as it is cut.

    Attributes:
        name: the piece's.
        make: whose, where several makes share a lay; "" otherwise.
        cloth: the name of the cloth it is cut from.
        outline: its cutting line, counter-clockwise, the head of the grain arrow towards +x; of a piece on the fold the
            half, with the fold edge on the x axis and everything else above it.
        count: how many are cut (of a piece on the fold: how many whole ones).
        mirrored: cut as left and right pairs.
        grain: does it say how its grain runs? Where it does not, it lies as it is drawn, which is said.
        marks: places that may be matched on stripes and checks.
        even: its mirror image is itself, as it lies along the grain; then it may be cut double though it is no pair.
        hem: the name of its straight hem across the grain, which may lie on a border; "" where it has none.
        notes: sentences about it that she should read.
    """

    name: str
    outline: tuple[Point, ...]
    cloth: str = "self"
    make: str = ""
    on_fold: bool = False
    count: int = 1
    mirrored: bool = False
    grain: bool = True
    marks: tuple[Mark, ...] = ()
    even: bool = False
    hem: str = ""
    notes: tuple[str, ...] = ()


class Layer(StrEnum):
    """Which layer of the cloth a piece is cut from; a piece on the fold takes both."""

    SINGLE = "single"
    UPPER = "upper"
    LOWER = "lower"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Section:
    """A length of cloth that lies in one way.

    Attributes:
        start, length: along x.
        fold_depth: how deep it is folded; None for an open section.
    """

    start: float
    length: float
    fold_depth: float | None = None


@dataclass(frozen=True, slots=True)
class Laid:
    """One piece of cloth on the lay; of a double layer, the upper and the lower copy are two of these.

    Attributes:
        piece: what it is.
        copy: 1 for the first of that piece.
        layer: which layer it is cut from.
        pose, at: how the piece's outline lies: ``pose.of(p) + at``.
        section: index of the section it lies in.
    """

    piece: CutPiece
    copy: int
    layer: Layer
    pose: Pose
    at: Point
    section: int = 0

    @property
    def outline(self) -> tuple[Point, ...]:
        """Its corners on the table, counter-clockwise (mm); of a piece on the fold the half that shows."""
        points = tuple(self.pose.of(p) + self.at for p in self.piece.outline)
        return points[::-1] if self.pose.mirrored else points


@dataclass(frozen=True, slots=True)
class Check:
    """One line of a certificate.

    Attributes:
        name: what was checked, e.g. ``nothing overlaps``.
        said: what was found, with its figure.
    """

    name: str
    passed: bool
    said: str


@dataclass(frozen=True, slots=True)
class Certificate:
    """What an independent geometry library found about a lay."""

    checks: tuple[Check, ...]

    @property
    def passed(self) -> bool:
        """Did every check pass?"""
        return all(c.passed for c in self.checks)


@dataclass(frozen=True, slots=True)
class Lay:
    """All pieces of one cloth, laid.

    Attributes:
        length: of cloth taken up (mm), both ends squared already.
        how, seed, repeatable: of the search that found it (see :class:`toilewright.packing.problem.Packing`).
        notes: sentences that she should read beside the picture.
    """

    cloth: Cloth
    sections: tuple[Section, ...]
    laid: tuple[Laid, ...]
    length: float
    certificate: Certificate
    how: str = ""
    seed: int = 0
    repeatable: bool = True
    notes: tuple[str, ...] = ()
