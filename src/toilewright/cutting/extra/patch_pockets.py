"""Patch pockets: a hem turned to the inside at the top, sides and bottom turned under, sewn on where drill marks say.

The drill marks lie 3 mm inside the pocket's corners, so that the pocket covers them (common practice, no published
source).
"""

from __future__ import annotations

from dataclasses import replace
from math import pi

from toilewright.cutting.extra.circle_skirt import arc
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
from toilewright.cutting.extra.upright import from_top, holds, inwards, outside, upwards
from toilewright.errors import Finding, InputError, Severity
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, cross, unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import (
    Corner,
    CornerCut,
    Cut,
    Edge,
    EdgeKind,
    Grain,
    InnerLine,
    Landmark,
    Notch,
)
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

WIDTH, DEPTH = 140.0, 160.0
"""mm; a hand goes in (common practice, no published source)."""

HEM, TURN = 25.0, 10.0
"""mm of the hem at the top, and what is turned under at its raw edge (common practice, no published source)."""

COVERED = 3.0
"""mm that a drill mark lies inside the pocket's corner (common practice, no published source)."""

RADIUS, POINT = 30.0, 25.0
"""mm; of a round corner, and how far a pointed bottom hangs below the sides."""


def pocket_sum(options: Options) -> Sum:
    """What it is cut from its finished size."""
    width, depth, hem, allowance = (length_of(options, n) for n in ("width", "depth", "hem", "allowance"))
    _fits(options)
    figures = (Figure("finished_width", width, "finished width"), Figure("finished_depth", depth, "finished depth"),
               Figure("cut_width", width + 2 * allowance, "width to cut: with two allowances"),
               Figure("cut_depth", depth + allowance + hem + TURN,
                      "depth to cut: with one allowance, the hem and what is turned under it"))
    return Sum(figures, _steps(options))


def _fits(options: Options) -> None:
    width, depth = length_of(options, "width"), length_of(options, "depth")
    if length_of(options, "hem") + 10.0 > depth:
        raise InputError(f'A hem of {show_both(length_of(options, "hem"))} fills a pocket {show_both(depth)} deep; '
                         "make the hem narrower.")
    shape = word_of(options, "shape")
    if shape == "round" and length_of(options, "radius") > min(width / 2, depth - 10.0):
        raise InputError(f'Corners of {show_both(length_of(options, "radius"))} radius do not fit on a pocket '
                         f"{show_both(width)} wide; give a smaller radius.")
    if shape == "pointed" and length_of(options, "point") > depth / 2:
        raise InputError(f'A point of {show_both(length_of(options, "point"))} is more than half of the pocket; make '
                         "it shorter.")


def build_pocket(garment: Garment, options: Options) -> Built:
    """The pocket, and its place on the piece."""
    shell, edge = find_edge(garment, word_of(options, "edge"))
    name = word_of(options, "name") or "patch pocket"
    worked = pocket_sum(options)
    over_fold = shell.edge(edge).kind is EdgeKind.FOLD and length_of(options, "beside") == 0.0
    count = int(options.get("count") or (shell.cut.count if over_fold else how_often(shell)))
    piece = _piece(name, options, count)
    placed = _placed(shell, edge, piece, options, over_fold, name)
    found = []
    ring = next(m.path for m in placed.lines if m.name == f"{name} place").flatten(0.5)
    for dart in shell.darts:
        if holds(ring[:-1], dart.apex):
            found.append(Finding("pocket-over-dart", f'"{name}" lies over the point of the {dart.name} of '
                                 f'"{shell.name}"; sew the dart first, or move the pocket.', Severity.NOTE, name))
    figures = (*worked.figures, Figure("pockets", count, "pockets", length=False))
    steps = (*worked.steps, f'Sew the darts of "{shell.name}" first, and put the pocket on while the piece is still '
             f"flat: its corners {mm(COVERED)} beyond the drill marks, so that it covers them; baste, look at it on "
             "her, and stitch close to its sides and bottom, with a few stitches to and fro at both upper corners.")
    return Built((piece,), (), (placed,), Sum(figures, steps, tuple(found)), ((name, shell.name),))


# -- the pocket -------------------------------------------------------------------------------------


def _piece(name: str, options: Options, count: int) -> Piece:
    width, depth, hem, allowance = (length_of(options, n) for n in ("width", "depth", "hem", "allowance"))
    bottom = _bottom(options)
    edges = (Edge("bottom", bottom, EdgeKind.SEAM, allowance),
             Edge("side", Path.line(bottom.end, complex(width, depth)), EdgeKind.SEAM, allowance),
             Edge("top", Path.line(complex(width, depth), complex(0, depth)), EdgeKind.HEM, hem + TURN),
             Edge("other side", Path.line(complex(0, depth), bottom.start), EdgeKind.SEAM, allowance))
    notches = (Notch("hem fold", "side", edges[1].path.length), Notch("hem fold", "other side", 0.0),
               Notch("pocket middle", "top", width / 2))
    corners, lines = _corners(edges, options, allowance)
    return Piece(name, edges, notches=notches, lines=lines, corners=corners,
                 cut=Cut(count, False, word_of(options, "cloth")),
                 grain=Grain(complex(width / 2, 0.3 * depth), complex(width / 2, 0.75 * depth)))


def _bottom(options: Options) -> Path:
    """The bottom from its left to its right end, where the straight sides begin."""
    width, shape = length_of(options, "width"), word_of(options, "shape")
    if shape == "pointed":
        up = length_of(options, "point")
        return Path.polyline((complex(0, up), complex(width / 2, 0), complex(width, up)))
    if shape == "round":
        r = length_of(options, "radius")
        first = arc(complex(r, r), r, pi, 1.5 * pi).with_ends(complex(0, r), complex(r, 0))
        second = arc(complex(width - r, r), r, 1.5 * pi, 2 * pi).with_ends(complex(width - r, 0), complex(width, r))
        middle = [Path.line(first.end, second.start)] if width - 2 * r > 0.01 else []
        return Path.joined([first, *middle, second if middle else second.with_ends(start=first.end)])
    return Path.line(0j, complex(width, 0))


def _corners(edges: tuple[Edge, ...], options: Options, allowance: float) -> tuple[tuple[Corner, ...],
                                                                                   tuple[InnerLine, ...]]:
    """How the two lower corners are cut, and the lines on which they are mitred."""
    if word_of(options, "shape") == "round":
        return (), ()
    bottom, side, _, other = edges
    pairs = ((bottom, side), (other, bottom))
    if word_of(options, "corners") == "square":
        return tuple(Corner(a.name, b.name, CornerCut.FOLDED, "bottom") for a, b in pairs), ()
    lines = tuple(InnerLine("mitre", mitre(a.path.end, a.path.end_tangent, b.path.start_tangent, allowance))
                  for a, b in pairs)
    return tuple(Corner(a.name, b.name, CornerCut.MITRED) for a, b in pairs), lines


def mitre(corner: Point, arriving: Point, leaving: Point, allowance: float) -> Path:
    """The line on which a corner is sewn to a mitre, from cutting line to cutting line, through the corner.

    Folded diagonally, right sides together, its two halves lie on each other.
    """
    along = unit(arriving + leaving)
    reach = allowance / abs(cross(along, leaving))
    return Path.line(corner - along * reach, corner + along * reach)


# -- its place --------------------------------------------------------------------------------------


def _placed(shell: Piece, edge: str, pocket: Piece, options: Options, over_fold: bool, name: str) -> Piece:
    """The garment's piece with the pocket's outline and drill marks on it."""
    at = from_top(shell, edge, length_of(options, "below"))
    up, way = upwards(shell), inwards(shell, edge, at)
    width, depth = length_of(options, "width"), length_of(options, "depth")
    top = shell.edge(edge).path.point_at(at) + way * (length_of(options, "beside") - (width / 2 if over_fold else 0.0))

    def on_shell(z: Point) -> Point:
        return top + way * z.real + up * (z.imag - depth)

    outline = [p for p in pocket.outline.flatten(0.05)[:-1] if not over_fold or p.real >= width / 2 - 1e-6]
    if over_fold:
        outline = [complex(width / 2, 0.0), *(p for p in outline if p.real > width / 2 + 1e-6),
                   complex(width / 2, depth)]
    ring = [on_shell(p) for p in outline]
    if outside(shell, ring):
        down, off = (show_both(length_of(options, n)) for n in ("below", "beside"))
        raise InputError(f"A pocket {show_both(width)} wide and {show_both(depth)} deep, {down} down and {off} from "
                         f'"{edge}", does not lie within "{shell.name}"; move it or make it smaller.')
    low = pocket.edge("side").path.start.imag
    corners = [complex(x, y) for x in (COVERED, width - COVERED) for y in (depth - COVERED, low + COVERED)]
    marks = tuple(Landmark(f"pocket mark {k}, {name}", on_shell(c)) for k, c in enumerate(corners, 1)
                  if not over_fold or c.real > width / 2)
    line = InnerLine(f"{name} place", Path.polyline([*ring, ring[0]]))
    return replace(shell, landmarks=(*shell.landmarks, *marks), lines=(*shell.lines, line))


# -- words ------------------------------------------------------------------------------------------


def _steps(options: Options) -> tuple[str, ...]:
    allowance, hem = length_of(options, "allowance"), length_of(options, "hem")
    lower = {
        "round": "Run a gathering thread round both lower corners in the allowance, draw it up over a card cut to the "
                 "finished shape, and press sides and bottom over the card.",
        "mitred": f"Fold each lower corner diagonally, right sides together, sew on the line called mitre, trim it to "
                  f"{mm(5.0)}, turn it, and press {mm(allowance)} under at sides and bottom.",
        "square": f"Press {mm(allowance)} under at the bottom first, then at both sides; the corners are square.",
    }["round" if word_of(options, "shape") == "round" else word_of(options, "corners")]
    return (f"Press {mm(TURN)} under at the upper raw edge and stitch it.",
            f"Fold the hem of {mm(hem)} to the right side along the upper seam line, from notch to notch, sew both "
            "ends on the seam lines, cut the corners off and turn it to the inside.", lower)


PATCH = Kind(
    "patch pocket", "a pocket sewn onto a piece, its place given by drill marks",
    (Option("edge", Asks.EDGE, 'an edge that runs down beside it, such as "skirt front side seam"; a fold with '
            "beside = 0 for one pocket across it", needed=True),
     Option("below", Asks.LENGTH, "from the upper end of that edge to the opening", 80.0, 0.0, 1500.0),
     Option("beside", Asks.LENGTH, "from that edge to the pocket, level with its opening", 50.0, 0.0, 600.0),
     Option("width", Asks.LENGTH, "finished width", WIDTH, 30.0, 600.0),
     Option("depth", Asks.LENGTH, "finished depth", DEPTH, 30.0, 600.0),
     Option("hem", Asks.LENGTH, "of the hem at the top", HEM, 5.0, 100.0),
     Option("shape", Asks.CHOICE, "of the bottom", "square", words=("square", "round", "pointed")),
     Option("radius", Asks.LENGTH, "of round corners", RADIUS, 5.0, 200.0),
     Option("point", Asks.LENGTH, "how far a pointed bottom hangs below the sides", POINT, 5.0, 200.0),
     Option("corners", Asks.CHOICE, "how the lower corners are folded: mitred, or square (bottom first, then sides)",
            "mitred", words=("mitred", "square")),
     Option("count", Asks.COUNT, "how many; left out, one on each side that the piece is there", None, 1, 20),
     ALLOWANCE_OPTION, NAME_OPTION, CLOTH_OPTION),
    ("arithmetic: the finished size, its allowances, the hem and what is turned under it",
     "common practice, no published source: drill marks 3 mm inside the corners; 2.5 cm of hem"),
    pocket_sum, build_pocket,
    (Example({"width": "14 cm", "depth": "16 cm", "hem": "2.5 cm", "allowance": "1 cm"},
             {"cut_width": 160.0, "cut_depth": 205.0}, "arithmetic: 14 + 2 x 1 cm; 16 + 1 + 2.5 + 1 cm"),),
    ("pocket", "patch"))

KINDS = (PATCH,)
