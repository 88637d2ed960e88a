"""Broad or narrow back: its part at the armhole is cut loose from the shoulder down, and swung out or in."""

from __future__ import annotations

from cmath import rect
from dataclasses import replace

from toilewright.errors import AlterationError
from toilewright.fit.alterations.kinds import Alteration, Change, Need, Options, Picture, Size, too_much
from toilewright.fit.frame import down, need_edges, needed_piece, outward
from toilewright.fit.moves.bow import bowed, ending_along
from toilewright.fit.moves.edges import Redrawn, corner, ends_at, redraw_edge, reline
from toilewright.fit.moves.ring import Place, Region, crossing, point_of
from toilewright.fit.moves.slash import holds
from toilewright.fit.result import Card, Order
from toilewright.geometry.affine import Affine
from toilewright.geometry.point import Point, dot, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.piece import Piece

NAME = "back width"

HINGE_SHARE = 0.2
"""Of the armhole from the underarm up: there the cut ends, in the hollow (our own choice)."""

MOST = 14.0
"""mm on each half; more misshapes the armhole (our own choice)."""


def apply(garment: Garment, amount: float, options: Options) -> Change:
    """Each half of the back wider by `amount` mm half way down the armhole (narrower when negative).

    Armhole and shoulder keep their lengths: where the armhole is drawn flatter, the tip is lifted a little.

    Options:
        piece: ``bodice back`` unless told otherwise.

    Raises:
        AlterationError: an edge is missing, or the amount does not fit.
    """
    piece = needed_piece(garment, NAME, options, "bodice back")
    need_edges(piece, NAME, "centre back", "neck", "shoulder", "armhole", "side seam")
    if abs(amount) > MOST:
        raise too_much(NAME, amount, piece.name, "misshapes the armhole", MOST if amount > 0 else -MOST)
    width, length = _width(piece), piece.edge("armhole").path.length
    by, rise = amount, 0.0
    for _ in range(12):
        drawn = _drawn(piece, by, rise)
        by += amount - (_width(drawn) - width)
        rise -= drawn.edge("armhole").path.length - length
    cut, hinge, region = _loose(piece, amount)
    picture = _picture(piece, amount, region, point_of(piece, hinge))
    at = point_of(piece, cut)
    return Change(garment.with_piece(reline(piece, drawn, "armhole")), {piece.name: picture},
                  {"opening": abs(region.move(at) - at), "rise": rise})


def _level(piece: Piece) -> tuple[Place, Place]:
    """Centre and armhole at the level half way between shoulder tip and underarm."""
    middle = (corner(piece, "armhole", "shoulder") + corner(piece, "armhole", "side seam")) / 2
    centre, armhole = (crossing(piece, edge, middle, down(piece) * 1j) for edge in ("centre back", "armhole"))
    if centre is None or armhole is None:
        raise AlterationError(f'"{NAME}" measures "{piece.name}" from centre back to armhole half way down, '
                              "but that level does not reach both; compare the names of the edges in the labels.")
    return centre, armhole


def _width(piece: Piece) -> float:
    centre, armhole = _level(piece)
    return abs(point_of(piece, armhole) - point_of(piece, centre))


def _drawn(piece: Piece, by: float, rise: float) -> Piece:
    """The armhole farther out by `by` mm at its level, the shoulder turned about the neck until its tip has risen."""
    neck, tip = corner(piece, "shoulder", "neck"), corner(piece, "shoulder", "armhole")
    last = ends_at(piece, "armhole", "shoulder")
    up = 1.0 if dot(unit(tip - neck) * 1j, -down(piece)) > 0 else -1.0
    angle = up * rise / abs(tip - neck)
    turned = Affine.turn(angle, neck)
    moved = turned(tip) - tip
    line = bowed(piece, "armhole", _level(piece)[1].at, outward(piece) * by, (0j, moved) if last else (moved, 0j))
    fresh = line.path if last else line.path.reversed()
    old = piece.edge("armhole").path
    along = (old.end_tangent if last else -old.start_tangent) * rect(1.0, angle)
    fresh = ending_along(fresh, along)
    path = piece.edge("shoulder").path
    armhole = replace(line, path=fresh if last else fresh.reversed(), new=tuple(
        n * fresh.length / line.path.length for n in line.new))
    shoulder = Redrawn("shoulder", path.rotated(neck, angle), (0.0, path.length), (0.0, path.length))
    marks = {m.name: turned(tip) for m in piece.landmarks if abs(m.at - tip) < 1e-3}
    return redraw_edge(piece, armhole, shoulder, landmarks=marks)


def _loose(piece: Piece, amount: float) -> tuple[Place, Place, Region]:
    """The part that is cut loose: from the middle of the shoulder straight down, and out to the armhole."""
    length, last = piece.edge("armhole").path.length, ends_at(piece, "armhole", "shoulder")
    cut = Place("shoulder", piece.edge("shoulder").path.length / 2)
    hinge = Place("armhole", (HINGE_SHARE if last else 1 - HINGE_SHARE) * length)
    h, way = point_of(piece, hinge), down(piece)
    a, level = point_of(piece, cut), point_of(piece, _level(piece)[1])
    bend = a + way * dot(h - a, way)
    reach, out = dot(h - level, way), outward(piece)
    turned = amount / reach * (1.0 if dot((level - h) * 1j, out) > 0 else -1.0)
    ends = (hinge, cut) if holds(piece, cut, hinge, "centre back") else (cut, hinge)
    return cut, hinge, Region(*ends, (bend,), Affine.turn(turned, h))


def _picture(old: Piece, amount: float, region: Region, hinge: Point) -> Picture:
    a, by = point_of(old, _level(old)[1]), outward(old) * amount
    size = Size(a, a + by) if amount > 0 else Size(a + by, a)
    near = (corner(old, "shoulder", "neck"), region.move(corner(old, "shoulder", "armhole")), *region.within,
            corner(old, "armhole", "side seam"))
    return Picture((region,), (), (hinge,), (size,), near)


def _card(order: Order, change: Change) -> Card:
    by, broad = f"{{{abs(order.amount.value):.1f} mm}}", order.amount.value > 0
    opening = f"{{{abs(change.numbers['opening']):.0f} mm}}"
    steps = (
        "On the back, rule a line from the middle of the shoulder seam straight down, parallel to the grain, and from "
        "there out to the hollow of the armhole.",
        "Cut along it from the shoulder to the armhole seam line, not through it; snip the allowance there.",
        f"Swing the part at the armhole {'out' if broad else 'in'} until the back is {by} "
        f"{'wider' if broad else 'narrower'} half way down the armhole; the cut "
        f"{'stands open' if broad else 'laps'} by about {opening} at the shoulder. Tape.",
        f"True the shoulder to its old length: its tip comes to lie {{{abs(change.numbers['rise']):.1f} mm}} "
        f"{'higher' if change.numbers['rise'] > 0 else 'lower'} than it was.",
        "Draw the armhole from the tip into the swung line, as long as it was.")
    check = (f"Each half of the back is {by} {'wider' if broad else 'narrower'} half way down the armhole.",
             "Armhole and shoulder measure what they did; the front has not changed.")
    return Card(f"{'Broad' if broad else 'Narrow'} back", ("paper", "tape", "ruler", "French curve", "scissors"), steps,
                check, SOURCE)


SOURCE = "NMSU Cooperative Extension C-228; Texas AgriLife Extension E-372"

ALTERATION = Alteration(
    NAME, ("broad back", "narrow back"), (-12.0, 12.0), SOURCE, 1, apply, _card, {"narrow back": -1.0},
    needs=(Need("bodice back", ("centre back", "neck", "shoulder", "armhole", "side seam")),),
    instead='on a princess seam, let the seam out or take it in between shoulder and blade, or use "shoulder width"')
