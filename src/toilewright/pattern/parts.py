"""What a piece is made of. Lengths in mm; places on an edge are arc lengths from the edge's start."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point
from toilewright.known import Origin


class EdgeKind(StrEnum):
    """What happens to an edge."""

    SEAM = "seam"
    FOLD = "fold"
    HEM = "hem"
    OPENING = "opening"
    FREE = "free"


class Press(StrEnum):
    """Which way a dart's fold is pressed: towards its first or its second foot along the ring."""

    TO_START = "to start"
    TO_END = "to end"


class CornerCut(StrEnum):
    """How the allowance is cut at a corner of a piece.

    MITRED: both cutting lines run on until they meet. FOLDED: the end of one edge's allowance is the mirror image of
    the other edge's cutting line, so that it lies on it once it is turned back along its seam line. SQUARE: the end of
    one edge's allowance is square to that edge, so that it lies on the end of its partner's when both are sewn.
    """

    MITRED = "mitred"
    FOLDED = "folded"
    SQUARE = "square"


class NotchCut(StrEnum):
    """How a balance mark is cut: clipped into the allowance, or a small point that stands out from it."""

    CLIPPED = "clipped"
    OUTWARD = "outward"


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of a piece whose allowance is not cut as usual.

    Attributes:
        before, after: the edge that arrives at it and the edge that leaves it, counter-clockwise.
        cut: how it is cut.
        first: of a folded or square corner, the edge whose allowance ends there in that way: the seam that is sewn
            first, or the edge that is turned back; one of the two.
        reach: of a square corner, how far beyond the corner the allowance ends (mm along that edge's line); None for
            where the other cutting line crosses it.
    """

    before: str
    after: str
    cut: CornerCut
    first: str = ""
    reach: float | None = None


@dataclass(frozen=True, slots=True)
class Edge:
    """A named run of the piece's ring, at the seam line.

    Attributes:
        name: the same on every size, e.g. ``side seam``.
        path: counter-clockwise along the ring.
        kind: seam, fold, hem, opening, or free (a raw or finished edge that meets nothing).
        allowance: cloth beyond the line when cut (mm); 0 on a fold.
    """

    name: str
    path: Path
    kind: EdgeKind = EdgeKind.SEAM
    allowance: float = 15.0


@dataclass(frozen=True, slots=True)
class Dart:
    """A fold of cloth taken out at an edge: two legs that meet at an apex.

    The edge's path runs through the mouth between the two feet; the sewn edge leaves the mouth out.

    Attributes:
        name: e.g. ``bust dart``, ``waist dart``.
        edge: name of the edge it opens on.
        start, end: arc length on that edge of its first and second foot (mm).
        apex: the point where the stitching ends.
        press: towards which foot its fold is pressed.
    """

    name: str
    edge: str
    start: float
    end: float
    apex: Point
    press: Press = Press.TO_START


@dataclass(frozen=True, slots=True)
class Notch:
    """A balance mark across an edge.

    Attributes:
        at: arc length from the edge's start (mm).
        count: 1 for a single notch (front), 2 for a double one (back).
        cut: how it is cut.
    """

    name: str
    edge: str
    at: float
    count: int = 1
    cut: NotchCut = NotchCut.CLIPPED


@dataclass(frozen=True, slots=True)
class Grain:
    """The straight-grain arrow, from tail to head."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Landmark:
    """A named point of the body on the flat piece, e.g. ``bust point``."""

    name: str
    at: Point
    origin: Origin = Origin.READ


@dataclass(frozen=True, slots=True)
class InnerLine:
    """A named line inside the piece, e.g. ``lengthen or shorten``, ``waist line``, ``bust line``."""

    name: str
    path: Path


@dataclass(frozen=True, slots=True)
class Cut:
    """How the piece is cut.

    Attributes:
        count: how many pieces of cloth.
        mirrored: cut as a left and right pair.
        cloth: ``self``, ``lining``, ``interfacing`` or a name of her own.
    """

    count: int = 1
    mirrored: bool = False
    cloth: str = "self"
