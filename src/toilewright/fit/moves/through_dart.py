"""A cut that runs through a dart: what opens at the seam goes into the dart."""

from __future__ import annotations

from dataclasses import replace

from toilewright.fit.moves.edges import Redrawn, redraw_across, redraw_edge, reline, soften
from toilewright.fit.moves.opening import open_cut, open_right_across
from toilewright.fit.moves.ring import Carried, Place
from toilewright.geometry.path import Path
from toilewright.pattern.piece import Piece


def open_through_dart(piece: Piece, name: str, other: Place, by: float, stays: str, hinged: bool = True,
                      ) -> tuple[Piece, Carried]:
    """Cut from the middle of a dart's mouth straight to another place, and open it (lap it, when negative).

    The dart gets as much wider at its mouth as the lips of the cut come apart there; its point stays between its legs.

    Args:
        other: where the cut ends.
        by: how far the lips are apart at the mouth (mm).
        stays: an edge on the side that stays.
        hinged: the paper holds at the other end; else the cut opens evenly, and the edge there is redrawn across it.
    """
    dart = piece.dart(name)
    cut = Place(dart.edge, (dart.start + dart.end) / 2)
    carried = (open_cut if hinged else open_right_across)(piece, cut, other, by, stays)[1]
    gap = carried.at(other.edge, other.at), carried.at(other.edge, other.at, after=True)
    out = (soften(carried.piece, other.edge, gap[0]) if hinged else
           redraw_edge(carried.piece, redraw_across(carried.piece, other.edge, *gap)))
    moved = next(r.move for r in carried.regions if r.move is not None)
    apex = (dart.apex + moved(dart.apex)) / 2
    out = replace(out, darts=tuple(replace(d, apex=apex) if d.name == name else d for d in out.darts))
    return reline(piece, straight_mouth(out, name), dart.edge, other.edge), carried


def straight_mouth(piece: Piece, name: str) -> Piece:
    """The mouth of a dart ruled from foot to foot."""
    dart = piece.dart(name)
    path = piece.edge(dart.edge).path
    before, _, after = path.cut_at((dart.start, dart.end))
    line = Path.line(before.end, after.start)
    fresh = Path.joined((before, line, after))
    end = dart.start + line.length
    return redraw_edge(piece, Redrawn(dart.edge, fresh, (0.0, dart.start, dart.end, path.length),
                                      (0.0, dart.start, end, fresh.length)))
