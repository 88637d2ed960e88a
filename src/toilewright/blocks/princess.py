"""Fitted bodice with princess seams from the shoulders: our own draft.

The draft, in words. It is the fitted bodice (see :mod:`toilewright.blocks.bodice`), cut apart. In front a line runs
from the middle of the shoulder to the bust point and on along the waist dart; the bust dart is closed, the panel beside
the line opens with it. Behind, the line runs to the tip of the waist dart and on along that dart. So the darts go into
the seam, and the bodice fits as before. Over the bust and the shoulder blade the seams are rounded, and they arrive
square to the shoulder. The centre panel's line runs through the point; the side panel's, which has more to turn, cuts
its corner just so far that both are equally long, above the point and below it. What the back shoulder is longer is
eased in, half of it on each panel.
"""

from __future__ import annotations

from toilewright.blocks.draft import SEAM, level_line, upright
from toilewright.errors import GeometryError
from toilewright.geometry.affine import Affine
from toilewright.geometry.fairing import hermite
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross, turn, unit
from toilewright.pattern.parts import Cut, Edge, InnerLine, Landmark, Notch
from toilewright.pattern.piece import Piece

BESIDE = 40.0
"""mm; balance marks of a princess seam stand so far above and below the point that it runs over."""

LENGTHEN_AT = 40.0
"""mm over the waist: the line on which the bodice is lengthened."""


def draft_princess(front: Piece, back: Piece) -> tuple[Piece, Piece, Piece, Piece]:
    """Bodice front, bodice side front, bodice back and bodice side back.

    Args:
        front, back: the fitted bodice, each with a `waist dart`; the front with a `bust point` and with its
            `bust dart` on the side seam.

    Raises:
        GeometryError: the seam cannot be rounded, or a line finds no room.
    """
    bust_point = front.landmark("bust point")
    blade = back.dart("waist dart").apex
    return (*_Cut(front, blade if bust_point is None else bust_point, "front", "bust", 1).panels(),
            *_Cut(back, blade, "back", "blade", 2).panels())


class _Cut:
    """A bodice cut along the line from the middle of its shoulder over a point to its waist dart."""

    def __init__(self, bodice: Piece, point: Point, which: str, mark: str, count: int) -> None:
        """Find the parts; what lies above a bust dart beside the line is turned about the point until it is closed."""
        self.bodice, self.point, self.which, self.mark, self.count = bodice, point, which, mark, count
        dart, waist = bodice.dart("waist dart"), bodice.edge("waist").path
        self.inner, self.outer = waist.sub(0.0, dart.start), waist.sub(dart.end, waist.length)
        shoulder = bodice.edge("shoulder").path
        self.beside, self.shoulder = shoulder.split(shoulder.length / 2)
        self.seam = _over(self.inner.end, point, self.shoulder.start, self.shoulder.start_tangent * -1j)
        feet = [bodice.feet(d) for d in bodice.darts_on("side seam")]
        self.closed = Affine.turn(sum(turn(second - point, first - point) for first, second in feet), point)

    def panels(self) -> tuple[Piece, Piece]:
        """The panel at the centre and the one at the side."""
        return self._centre(), self._side()

    def _centre(self) -> Piece:
        bodice, centre = self.bodice, self.bodice.edge(f"centre {self.which}")
        below, above = self.seam
        seam = Path.joined([below, above])
        own = [m for m in bodice.landmarks if m.name in ("nape", "neck point", "centre waist")]
        return Piece(
            bodice.name,
            (centre, Edge("waist", self.inner, allowance=SEAM), Edge("princess seam", seam, allowance=SEAM),
             Edge("shoulder", self.shoulder, allowance=SEAM), bodice.edge("neck")),
            (), self._marks(below.length, 1), bodice.grain, (*own, *self._point(below.end)),
            self._lines(centre.path, seam), bodice.cut)

    def _side(self) -> Piece:
        bodice, beside = self.bodice, self.beside.mapped(self.closed)
        below, above = _as_long(self.outer.start, self.point, beside.end, beside.end_tangent * -1j,
                                (self.seam[0].length, self.seam[1].length))
        seam = Path.joined([below, above]).reversed()
        waist_end = self.outer.end
        armhole = bodice.edge("armhole").path.mapped(self.closed)
        underarm = waist_end + unit(armhole.start - waist_end) * bodice.sewn_length("side seam")
        side_seam = Path.line(waist_end, underarm)
        middle = (self.outer.start.real + waist_end.real) / 2
        names = {"shoulder tip": beside.start, "underarm": underarm, "side waist": waist_end}
        armhole_notches = [n for n in bodice.notches if n.edge in ("armhole", "side seam")]
        return Piece(
            f"bodice side {self.which}",
            (Edge("waist", self.outer, allowance=SEAM), Edge("side seam", side_seam, allowance=SEAM),
             Edge("armhole", armhole.with_ends(start=underarm), allowance=SEAM),
             Edge("shoulder", beside, allowance=SEAM), Edge("princess seam", seam, allowance=SEAM)),
            (), (*armhole_notches, *self._marks(above.length, -1)),
            upright(middle, 60.0, underarm.imag - 40.0),
            (*(Landmark(name, at) for name, at in names.items()), *self._point(below.end)),
            self._lines(seam, side_seam), Cut(2, mirrored=True))

    def _marks(self, at: float, up: int) -> tuple[Notch, ...]:
        """Balance marks at the point, over it and under it; `up` is -1 where the edge runs down."""
        places = ((f"lower {self.mark} notch", at - up * BESIDE), (f"{self.mark} notch", at),
                  (f"upper {self.mark} notch", at + up * BESIDE))
        return tuple(Notch(name, "princess seam", place, self.count) for name, place in places)

    def _point(self, at: Point) -> tuple[Landmark, ...]:
        return (Landmark("bust point", at),) if self.mark == "bust" else ()

    def _lines(self, left: Path, right: Path) -> tuple[InnerLine, InnerLine]:
        bust_line = self.bodice.line("bust line")
        level = self.point.imag if bust_line is None else bust_line.start.imag
        return (level_line("bust line", left, right, level),
                level_line("lengthen or shorten", left, right, LENGTHEN_AT))


def _over(low: Point, point: Point, high: Point, last: Point) -> tuple[Path, Path]:
    """The smooth line up over a point: it leaves straight towards the point and arrives in a given direction."""
    first = unit(point - low)
    along = unit(first + unit(high - point))
    return hermite(low, first, point, along), hermite(point, along, high, last)


def _as_long(low: Point, point: Point, high: Point, last: Point, wanted: tuple[float, float]) -> tuple[Path, Path]:
    """The smooth line past a point, inside its corner by just so much that both parts have given lengths (mm).

    Raises:
        GeometryError: the corner is too sharp.
    """
    first = unit(point - low)
    along = unit(first + unit(high - point))

    def parts(p: Point) -> tuple[Path, Path]:
        return hermite(low, first, p, along), hermite(p, along, high, last)

    def miss(p: Point) -> complex:
        below, above = parts(p)
        return complex(below.length - wanted[0], above.length - wanted[1])

    p = point
    for _ in range(20):  # Newton's rule on the place where they meet
        off = miss(p)
        if abs(off) < 1e-9:
            break
        by_x, by_y = (miss(p + 1e-4) - off) / 1e-4, (miss(p + 1e-4j) - off) / 1e-4
        p -= complex(cross(off, by_y), cross(by_x, off)) / cross(by_x, by_y)
    if not (abs(off) < 1e-6 and abs(p - point) < 0.2 * min(wanted)):
        raise GeometryError("The princess seam cannot be rounded over its point: its two ways make too sharp a corner; "
                            "compare the bust, the waist and the front length of this body with a size chart.")
    return parts(p)
