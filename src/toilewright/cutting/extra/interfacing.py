"""Interfacing: cut after the piece it lies on, without seam allowances and a little inside the seam line.

It is kept out of the seam so that no thickness is sewn into it (common practice, no published source: 2 mm inside).
"""

from __future__ import annotations

from dataclasses import replace

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
from toilewright.cutting.extra.places import find_piece
from toilewright.errors import Finding, GeometryError, InputError, Severity
from toilewright.geometry.offset import offset_ring
from toilewright.geometry.point import unit
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import Cut, EdgeKind, Grain, Notch
from toilewright.pattern.piece import Piece
from toilewright.units import show_both

INSIDE = 2.0
"""mm inside the seam line (common practice, no published source)."""

CLOTH = "interfacing"

DOUBLED = ("band", "collar", "cuff", "stand", "belt")
"""Pieces of two layers, of which the one that is seen is interfaced."""

FACED = ("facing", *DOUBLED)


def interfaced(piece: Piece, name: str, inside: float = INSIDE, count: int | None = None) -> Piece:
    """The interfacing of one piece.

    Args:
        inside: how far its edges lie inside the seam line (mm); a fold stays.
        count: how many; None for as many as the layers that are seen.

    Raises:
        InputError: nothing of the piece is left so far inside.
    """
    try:
        paths = offset_ring([e.path for e in piece.edges],
                            [0.0 if e.kind is EdgeKind.FOLD else -inside for e in piece.edges])
    except GeometryError:
        raise InputError(f'Nothing is left of "{piece.name}" {show_both(inside)} inside its seam line; give less for '
                         '"inside".') from None
    edges = tuple(replace(e, path=p, allowance=0.0, kind=EdgeKind.FOLD if e.kind is EdgeKind.FOLD else EdgeKind.FREE)
                  for e, p in zip(piece.edges, paths, strict=True))
    moved = {n.name: edges[i].path for i, n in enumerate(piece.edges)}
    notches = tuple(Notch(n.name, n.edge, moved[n.edge].nearest(piece.edge(n.edge).path.point_at(n.at))[0], n.count)
                    for n in piece.notches)
    number = layers(piece) if count is None else count
    return Piece(name, edges, notches=notches, grain=_grain(piece),
                 cut=Cut(number, piece.cut.mirrored and number % 2 == 0, CLOTH))


def _grain(piece: Piece) -> Grain | None:
    """The piece's own; of a long band along its length, so that it does not stretch."""
    longest = max(piece.edges, key=lambda e: e.path.length).path
    long = longest.length > 3 * piece.area / longest.length
    if piece.grain is None or not long or not _doubled(piece) or "collar" in piece.name:
        return piece.grain
    middle = (piece.grain.start + piece.grain.end) / 2
    half = unit(longest.end - longest.start) * 0.3 * longest.length
    return Grain(middle - half, middle + half)


def _doubled(piece: Piece) -> bool:
    return any(w in piece.name.split() or piece.name.endswith(w) for w in DOUBLED)


def layers(piece: Piece) -> int:
    """How many layers of it are interfaced: all, or of a band or collar of two layers the one that is seen."""
    count = piece.cut.count
    if count % 2 == 0 and not piece.cut.mirrored and _doubled(piece):
        return count // 2
    return count


def interfacing_sum(options: Options) -> Sum:
    """What is told without a garment."""
    inside = length_of(options, "inside")
    figures = (Figure("inside", inside, "its edges inside the seam line"),)
    return Sum(figures, steps(inside))


def steps(inside: float) -> tuple[str, ...]:
    """The order of work."""
    return ("Fuse a scrap first: it must neither show through nor stiffen the cloth more than you want.",
            f"Lay it on the wrong side of its piece, {mm(inside)} inside the seam line all round, and press without "
            "sliding the iron. One that is sewn in is cut with its allowance and basted just outside the seam line.",
            "Let it cool flat before the piece is moved. Irons and steam burn: keep the other hand away.")


def build_interfacing(garment: Garment, options: Options) -> Built:
    """One piece of interfacing for each piece that was named."""
    of = _named(garment, word_of(options, "piece"))
    own = word_of(options, "name")
    count = int(length_of(options, "count")) if "count" in options else None
    made = []
    for piece in of:
        name = own if own and len(of) == 1 else f"{piece.name} {own or CLOTH}"
        made.append(interfaced(piece, name, length_of(options, "inside"), count))
    found = tuple(Finding("half-interfaced", f'"{p.name}" is cut {p.cut.count} times; only the layer that is seen is '
                          f"interfaced, {i.cut.count} of them.", Severity.NOTE, i.name)
                  for p, i in zip(of, made, strict=True) if i.cut.count < p.cut.count)
    worked = interfacing_sum(options)
    return Built(tuple(made), (), (), replace(worked, findings=found),
                 tuple((i.name, p.name) for p, i in zip(of, made, strict=True)))


def _named(garment: Garment, said: str) -> tuple[Piece, ...]:
    """The pieces she names; without a name, every facing, band, collar and cuff that has none yet."""
    ready = [p for p in garment.pieces if p.cut.cloth not in (CLOTH, "lining")]
    if not said:
        done = {p.name for p in garment.pieces if p.cut.cloth == CLOTH}
        found = tuple(p for p in ready if any(w in p.name for w in FACED)
                      and not any(d.startswith(p.name) for d in done))
        if not found:
            raise InputError('This garment has no facing, band, collar or cuff without interfacing; name the piece '
                             'with piece = "bodice front".')
        return found
    return tuple(find_piece(ready, part) for part in said.split("+"))


INTERFACING = Kind(
    "interfacing", "interfacing for facings, bands, collars and cuffs",
    (Option("piece", Asks.TEXT, 'the piece it lies on, several with "+"; else every facing, band, collar and cuff'),
     Option("inside", Asks.LENGTH, "how far inside the seam line its edges lie", INSIDE, 0.0, 15.0),
     Option("count", Asks.COUNT, "how many; left out, the layers that are seen", None, 1, 20),
     Option("name", Asks.TEXT, "what the piece is called")),
    ("common practice, no published source: without seam allowance, 2 mm inside the seam line; of a band or collar the "
     "layer that is seen; along the grain in a band",),
    interfacing_sum, build_interfacing,
    (Example({"inside": "2 mm"}, {"inside": 2.0}, "common practice, no published source"),),
    ("interface",))

KINDS = (INTERFACING,)
