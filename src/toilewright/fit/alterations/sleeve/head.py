"""The head of a sleeve: its top and its underarm corners, how it is drawn anew, and its ease in the armhole."""

from __future__ import annotations

from dataclasses import dataclass, replace

from toilewright.errors import AlterationError, Finding, Severity
from toilewright.fit.follow import allow_ease
from toilewright.fit.frame import down, needed_piece
from toilewright.fit.moves.edges import TOUCHES, Redrawn, bend, corner, ends_at, reline
from toilewright.geometry.affine import Affine
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, dot
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece
from toilewright.units import MM_PER_INCH, show_both

CAP = "cap"
UNDERARMS = ("underarm front", "underarm back")

MOST_EASE = 1.5 * MM_PER_INCH
"""mm that a sleeve head may be longer than its armhole (textbooks give 1 to 1 1/2 in; common practice)."""


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a sleeve.

    Attributes:
        top: arc length of the shoulder point on the cap (mm).
        sides: the underarm edges, first the one at the start of the cap.
    """

    sleeve: Piece
    top: float
    sides: tuple[str, str]

    @property
    def cap(self) -> Path:
        """Its line."""
        return self.sleeve.edge(CAP).path

    @property
    def up(self) -> Point:
        """Unit direction along the grain towards the shoulder."""
        return -down(self.sleeve)

    @property
    def ends(self) -> tuple[Point, Point]:
        """Its underarm corners, in the order of the sides."""
        return self.cap.start, self.cap.end

    @property
    def tip(self) -> Point:
        """Its shoulder point."""
        return self.cap.point_at(self.top)

    @property
    def height(self) -> float:
        """From the line between its underarm corners up to its shoulder point (mm)."""
        return dot(self.tip - sum(self.ends) / 2, self.up)

    @property
    def notches(self) -> tuple[float, float]:
        """Arc lengths of the balance marks nearest to the top, before it and after it; half way where there is none."""
        at = [n.at for n in self.sleeve.notches if n.edge == CAP and abs(n.at - self.top) > 1.0]
        return (max((s for s in at if s < self.top), default=self.top / 2),
                min((s for s in at if s > self.top), default=(self.top + self.cap.length) / 2))

    def drawn(self, first: Path, second: Path) -> Redrawn:
        """The cap with its two halves drawn anew; below the balance marks nothing is spread."""
        (low, high), length, total = self.notches, self.cap.length, first.length + second.length
        return Redrawn(CAP, Path.joined((first, second)), (0.0, low, self.top, high, length),
                       (0.0, low, first.length, total - (length - high), total))

    def bent(self, start: Affine, top: Affine, end: Affine) -> Redrawn:
        """The cap carried by these maps at its start, its top and its end, and in between by what lies between."""
        first, second = self.cap.split(self.top)
        return self.drawn(bend(first, start, top), bend(second, top, end))


def head_of(garment: Garment, name: str, options: dict[str, str]) -> Head:
    """The head of the sleeve that an alteration is made on.

    Raises:
        AlterationError: there is no such piece, or its edges do not meet as those of a sleeve in one piece.
    """
    sleeve = needed_piece(garment, name, options, "sleeve")
    first = next(e for e in UNDERARMS if not ends_at(sleeve, CAP, e))
    second = next(e for e in UNDERARMS if e != first)
    corner(sleeve, CAP, second)
    cap = sleeve.edge(CAP).path
    notch = next((n.at for n in sleeve.notches if n.name == "shoulder point" and n.edge == CAP), None)
    drawn = sleeve.landmark("shoulder point")
    if notch is None:
        way = down(sleeve)
        spot = drawn or min(cap.flatten(), key=lambda p: dot(p, way))
        notch = cap.nearest(spot)[0]
    if not 0.1 < notch / cap.length < 0.9:
        raise AlterationError(f'"{name}" on "{sleeve.name}" needs the shoulder point on the sleeve head, but it lies '
                              "near its end; mark it in the labels file.")
    return Head(sleeve, notch, (first, second))


def with_tip(piece: Piece, top: float) -> Piece:
    """The piece with its landmark at the shoulder point where the mark on the cap is."""
    spot = piece.edge(CAP).path.point_at(top)
    return replace(piece, landmarks=tuple(replace(m, at=spot) if m.name == "shoulder point" else m
                                          for m in piece.landmarks))


def lines_follow(before: Piece, after: Piece) -> Piece:
    """Inner lines from underarm to underarm drawn to the underarm seams where these lie now."""
    corners = {before.edge(CAP).path.start: after.edge(CAP).path.start,
               before.edge(CAP).path.end: after.edge(CAP).path.end}

    def at(p: Point, here: Point) -> Point:
        return next((new for old, new in corners.items() if abs(p - old) < TOUCHES), here)

    out = reline(before, after, *UNDERARMS)
    return replace(out, lines=tuple(
        replace(new, path=new.path.with_ends(at(old.path.start, new.path.start), at(old.path.end, new.path.end)))
        for old, new in zip(before.lines, out.lines, strict=True)))


def head_ease(garment: Garment, sleeve: str) -> float | None:
    """How much longer the head is than the armhole it is sewn into (mm); None when no seam says."""
    for seam in garment.seams:
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
            if [(r.piece, r.edge) for r in mine] == [(sleeve, CAP)]:
                hole = sum(garment.piece(r.piece).sewn_length(r.edge) * r.times for r in theirs)
                return garment.piece(sleeve).sewn_length(CAP) - hole
    return None


def with_head(garment: Garment, sleeve: Piece) -> tuple[Garment, tuple[Finding, ...]]:
    """The garment with its sleeve altered, what the head has grown left to be eased in, and what is to be said."""
    grown = sleeve.sewn_length(CAP) - garment.piece(sleeve.name).sewn_length(CAP)
    altered = garment.with_piece(sleeve)
    if abs(grown) < 0.05:
        return altered, ()
    altered = allow_ease(altered, sleeve.name, CAP, grown)
    ease = head_ease(altered, sleeve.name)
    if ease is None:
        return altered, ()
    was = f"The sleeve head is now {show_both(ease)} longer than its armhole ({show_both(ease - grown)} before)"
    if ease > MOST_EASE:
        return altered, (Finding(
            "head-ease", f"{was}, more than the {show_both(MOST_EASE)} that textbooks give: lower the armhole, or let "
            "the head fall.", Severity.LOOK, sleeve.name, CAP, asked=ease),)
    if ease < 0:
        return altered, (Finding(
            "head-ease", f"{was}: it is too short to be sewn in; raise the armhole, or change the head less.",
            Severity.LOOK, sleeve.name, CAP, asked=ease),)
    return altered, (Finding("head-ease", f"{was}.", Severity.NOTE, sleeve.name, CAP, asked=ease),)
