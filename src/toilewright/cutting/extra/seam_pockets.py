"""Pockets in a side seam: a bag of two layers, one sewn to the front, one to the back, closed round with the seam.

The bag's straight side is the garment's own seam line, so that it lies as the seam does. It reaches 2 cm beyond the
opening at both ends, where the side seam holds it (common practice, no published source).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from toilewright.cutting.extra.beside import without_stubs
from toilewright.cutting.extra.kinds import (
    Asks,
    Built,
    Example,
    Figure,
    Kind,
    Option,
    Options,
    Sum,
    length_of,
    mm,
    word_of,
)
from toilewright.cutting.extra.places import find_edge, how_often
from toilewright.cutting.extra.strips import ALLOWANCE_OPTION, CLOTH_OPTION, NAME_OPTION
from toilewright.cutting.extra.upright import from_top, inwards, outside, upwards
from toilewright.errors import InputError
from toilewright.geometry.path import Path
from toilewright.geometry.point import dot
from toilewright.pattern.garment import EdgeRef, Garment, Seam
from toilewright.pattern.parts import Cut, Edge, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

OPENING = 165.0
"""mm; a hand goes through (common practice, no published source: 15 to 18 cm)."""

BEYOND = 20.0
"""mm that the bag reaches beyond its opening at both ends (common practice, no published source)."""

HANGS = 60.0
"""mm; a bag hangs so far below its opening at least, or things fall out (common practice, no published source)."""

INSIDE = 3.0
"""mm by which the bag is sewn on outside the seam line, so that its seam stays inside (common practice, no published
source)."""


@dataclass(frozen=True, slots=True)
class Side:
    """The stretch of one piece's edge that the bag is sewn to.

    Attributes:
        start, end: arc lengths from the start of the edge (mm); `start` is nearer to that.
        upper_last: is the upper end of the stretch its end?
    """

    piece: Piece
    edge: str
    start: float
    end: float
    upper_last: bool


def bag_sum(options: Options) -> Sum:
    """Sizes of the bag, from numbers alone."""
    opening, depth, width, allowance = (length_of(options, n) for n in ("opening", "depth", "width", "allowance"))
    sewn = opening + 2 * BEYOND
    if depth < sewn + HANGS - BEYOND:
        raise InputError(f"A bag {show_both(depth)} deep hardly hangs below an opening of {show_both(opening)}; make "
                         f"it at least {show_both(sewn + HANGS - BEYOND)} deep.")
    return Sum((Figure("opening", opening, "length of the opening"),
                Figure("sewn_edge", sewn, "edge that is sewn to the side seam: the opening, and 2 cm at both ends"),
                Figure("depth", depth, "depth of the bag, from its upper end"),
                Figure("cut_width", width + 2 * allowance, "width to cut: with two allowances"),
                Figure("cut_depth", depth + 2 * allowance, "depth to cut: with two allowances")), _steps(options))


def build_bag(garment: Garment, options: Options) -> Built:
    """The bag, sewn to both sides of the seam."""
    piece, edge = find_edge(garment, word_of(options, "edge"))
    other = _partner(garment, piece, edge)
    name = word_of(options, "name") or "pocket bag"
    worked = bag_sum(options)
    sides = [_side(p, e, options) for p, e in ((piece, edge), other)]
    pockets = how_often(piece) if word_of(options, "sides") == "both" else 1
    bag = _bag(name, sides[0], options, 2 * pockets)
    seams = tuple(_seam(name, sides[0], side) for side in sides)
    closing = Seam(f"{name} round", (EdgeRef(name, "bag"),), (EdgeRef(name, "bag"),), upon=True)
    figures = (*worked.figures, Figure("pockets", pockets, "pockets", length=False))
    return Built((bag,), (*seams, closing), tuple(_marked(s) for s in sides), replace(worked, figures=figures))


# -- where ------------------------------------------------------------------------------------------


def _partner(garment: Garment, piece: Piece, edge: str) -> tuple[Piece, str]:
    for seam in garment.seams:
        if len(seam.a) != 1 or len(seam.b) != 1 or seam.ratio is not None or seam.a[0].part or seam.b[0].part:
            continue
        for mine, other in ((seam.a[0], seam.b[0]), (seam.b[0], seam.a[0])):
            if (mine.piece, mine.edge) == (piece.name, edge) and other.piece != piece.name:
                return garment.piece(other.piece), other.edge
    raise InputError(f'"{edge}" of "{piece.name}" is not sewn to one other edge, so no pocket can lie in it; name a '
                     "side seam.")


def _side(piece: Piece, edge: str, options: Options) -> Side:
    below, length = length_of(options, "below"), length_of(options, "opening") + 2 * BEYOND
    if below < BEYOND:
        raise InputError(f'"below" is {show_both(below)}; leave at least {show_both(BEYOND)} of seam above the '
                         "opening.")
    top = from_top(piece, edge, below - BEYOND)
    bottom = from_top(piece, edge, below - BEYOND + length)
    start, end = sorted((top, bottom))
    for dart in piece.darts_on(edge):
        if dart.start < end + 1.0 and start - 1.0 < dart.end:
            raise InputError(f'The pocket would lie over the {dart.name} of "{piece.name}"; change "below" so that it '
                             "does not.")
    return Side(piece, edge, start, end, top > bottom)


# -- the bag ----------------------------------------------------------------------------------------


def _bag(name: str, side: Side, options: Options, count: int) -> Piece:
    """The bag as it lies on its piece, its round edge towards the middle."""
    seam = without_stubs(side.piece.edge(side.edge).path.sub(side.start, side.end))
    up, way = upwards(side.piece), inwards(side.piece, side.edge, (side.start + side.end) / 2)
    upper, lower = (seam.end, seam.start) if side.upper_last else (seam.start, seam.end)
    width, depth = length_of(options, "width"), length_of(options, "depth")
    # The bag hangs straight down from the end of the seam that lies farther out.
    out = min(dot(upper, way), dot(lower, way))
    base = upper + way * (out - dot(upper, way))

    def at(x: float, y: float) -> complex:
        return base + way * x * width - up * y * depth

    fall = depth - abs(dot(upper - lower, up))
    round_edge = Path((upper, at(1.0, 0.42), at(0.55, 1.0), lower),
                      ((upper + way * 0.5 * width, at(1.0, 0.14)), (at(1.0, 0.78), at(0.85, 1.0)),
                       (at(0.28, 1.0), lower + way * 0.22 * width - up * 0.45 * fall)))
    bag = round_edge if side.upper_last else round_edge.reversed()
    if outside(side.piece, bag.flatten(1.0)):
        raise InputError(f'A bag {show_both(width)} wide and {show_both(depth)} deep does not lie within '
                         f'"{side.piece.name}"; make it smaller or move it.')
    own = side.piece.edge(side.edge).allowance
    allowance = length_of(options, "allowance")
    edges = (Edge("seam", seam, EdgeKind.SEAM, own or allowance), Edge("bag", bag, EdgeKind.SEAM, allowance))
    marks = tuple(Notch("pocket opening", "seam", s) for s in (BEYOND, seam.length - BEYOND))
    middle = at(0.5, 0.5)
    return Piece(name, edges, notches=marks, cut=Cut(count, True, word_of(options, "cloth")),
                 grain=Grain(middle - up * 0.25 * depth, middle + up * 0.25 * depth))


def _seam(name: str, first: Side, side: Side) -> Seam:
    part = EdgeRef(side.piece.name, side.edge, side.upper_last != first.upper_last, 1, (side.start, side.end))
    return Seam(f"{name} to {side.piece.name}", (part,), (EdgeRef(name, "seam"),))


def _marked(side: Side) -> Piece:
    marks = tuple(Notch("pocket opening", side.edge, at) for at in (side.start + BEYOND, side.end - BEYOND))
    return replace(side.piece, notches=(*side.piece.notches, *marks))


# -- words ------------------------------------------------------------------------------------------


def _steps(options: Options) -> tuple[str, ...]:
    return (
        "Press a tape or a strip of interfacing along the seam line of the opening on the front, so that it does not "
        "stretch.",
        "Lay one bag on the front and one on the back, right sides together, mark to mark, and sew them on "
        f"{mm(INSIDE)} outside the seam line, from end to end; press the bags outwards and stitch the allowances to "
        "them.",
        "Lay front and back right sides together. Sew the side seam from the top to the upper mark, to and fro there; "
        "then from the lower mark to the hem; the opening between the marks stays open.",
        "Sew the two layers of the bag to each other round its edge, from the seam above to the seam below, and finish "
        "them together.",
        "Press the bag towards the front; clip the allowance of the back above and below it, so that the rest can be "
        "pressed open.")


BAG = Kind(
    "seam pocket", "a pocket in a side seam, its bag sewn to front and back",
    (Option("edge", Asks.EDGE, 'the front\'s edge of the seam, such as "skirt front side seam"', needed=True),
     Option("below", Asks.LENGTH, "from the upper end of the seam to the opening", 70.0, 0.0, 1000.0),
     Option("opening", Asks.LENGTH, "length of the opening", OPENING, 60.0, 400.0),
     Option("width", Asks.LENGTH, "of the bag", 150.0, 60.0, 400.0),
     Option("depth", Asks.LENGTH, "of the bag, from its upper end", 270.0, 100.0, 600.0),
     Option("sides", Asks.CHOICE, "in both side seams, or one", "both", words=("both", "one")),
     ALLOWANCE_OPTION, NAME_OPTION, CLOTH_OPTION),
    ("common practice, no published source: an opening of 15 to 18 cm, the bag 2 cm beyond it at both ends, two "
     "layers a pocket",),
    bag_sum, build_bag,
    (Example({"opening": "16 cm", "depth": "27 cm", "width": "15 cm", "allowance": "1 cm"},
             {"sewn_edge": 200.0, "cut_width": 170.0, "cut_depth": 290.0},
             "arithmetic: 16 + 2 x 2 cm; 15 + 2 x 1 cm; 27 + 2 x 1 cm"),),
    ("in seam pocket", "side pocket", "pocket bag"))

KINDS = (BAG,)
