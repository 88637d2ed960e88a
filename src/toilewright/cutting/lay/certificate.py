"""What an independent geometry library finds about a lay: everything is unfolded onto the open cloth and looked at.

Nothing of the search is used here: outlines, folds and copies are read off the lay, the rest is shapely's.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from toilewright.cutting.lay.plan import Certificate, Check, CutPiece, Laid, Lay, Layer

if TYPE_CHECKING:
    from shapely.geometry import Polygon

TOUCH = 0.01
"""mm; outlines may come so far into each other, or out of the cloth, by the arithmetic (a thread is 0.2 mm)."""

ON_FOLD = 1e-6
"""mm; a fold edge lies exactly on the fold when no corner of it is farther away."""

SHAPE = 1e-3
"""mm; how far an outline on the lay may differ from the piece it stands for."""

STRIPE = 0.5
"""mm; stripes that meet within this meet to the eye (common practice, no published source)."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two marks at which stripes shall meet: those of a seam's two sides, or of a piece and a main line of the cloth.

    Attributes:
        seam: what is matched, e.g. ``side seam``.
        pieces: (make, name) of one or two pieces.
        marks: the name of the mark on each.
        along, across: does the repeat in that direction count?
    """

    seam: str
    pieces: tuple[tuple[str, str], ...]
    marks: tuple[str, ...]
    along: bool = True
    across: bool = False


def certify(lay: Lay, pieces: Sequence[CutPiece], meetings: Sequence[Meeting] = ()) -> Certificate:
    """Look a lay over.

    Args:
        pieces: what was to be cut from this cloth.
        meetings: where stripes and checks shall meet.
    """
    checks = [_overlaps(lay), _on_cloth(lay), _grain(lay), _counts(lay, pieces), _hands(lay, pieces), _folds(lay),
              _shapes(lay, pieces), _length(lay)]
    if lay.cloth.border > 0.0:
        checks.append(_border(lay))
    if meetings:
        checks.append(_stripes(lay, meetings))
    return Certificate(tuple(checks))


def other_hand(laid: Laid) -> bool:
    """Does the cut piece come out as the mirror image of the drawn one? The lower of two layers is the other hand of
    the upper; an even piece has no hands."""
    if laid.piece.even or laid.piece.on_fold:
        return False
    return laid.pose.mirrored != (laid.layer is Layer.LOWER)


# -- on the open cloth ------------------------------------------------------------------------------


def unfolded(laid: Laid, lay: Lay) -> Polygon:
    """Where a piece comes to lie once the cloth is opened out (shapely; x along, y from the near selvedge)."""
    from shapely import union_all
    from shapely.geometry import Polygon

    depth = lay.sections[laid.section].fold_depth
    if depth is None:
        return Polygon([(p.real, p.imag) for p in laid.outline])
    flap = Polygon([(p.real, depth - p.imag) for p in laid.outline])
    below = Polygon([(p.real, depth + p.imag) for p in laid.outline])
    if laid.layer is Layer.BOTH:
        return union_all([flap, below])
    return flap if laid.layer is Layer.UPPER else below


def _overlaps(lay: Lay) -> Check:
    from shapely import STRtree

    shapes = [unfolded(one, lay).buffer(-TOUCH, join_style="mitre") for one in lay.laid]
    worst, said = 0.0, ""
    for i, j in STRtree(shapes).query(shapes, predicate="intersects").T.tolist():
        if i < j and (area := shapes[i].intersection(shapes[j]).area) >= worst:
            worst, said = area, f"{_name(lay.laid[i])} and {_name(lay.laid[j])} overlap by {area / 100:.2f} cm²."
    return Check("nothing overlaps", not said, said or f"{len(shapes)} pieces of cloth, no two of them overlap.")


def _on_cloth(lay: Lay) -> Check:
    from shapely import box, union_all
    from shapely.geometry import Polygon

    cloth = lay.cloth
    room = box(-TOUCH, -TOUCH, lay.length + TOUCH, cloth.width + TOUCH)
    if cloth.outline is not None:
        room = room.intersection(Polygon([(p.real, p.imag) for p in cloth.outline]).buffer(TOUCH))
    if cloth.length is not None:
        room = room.intersection(box(-TOUCH, -TOUCH, cloth.length + TOUCH, cloth.width + TOUCH))
    flaws = union_all([Polygon([(p.real, p.imag) for p in f]).buffer(0) for f in cloth.flaws]).buffer(-TOUCH)
    for one in lay.laid:
        shape = unfolded(one, lay)
        if (out := shape.difference(room).area) > 0.0:
            return Check("all on the cloth", False, f"{_name(one)} lies outside the cloth with {out / 100:.2f} cm².")
        if (hit := shape.intersection(flaws).area) > 0.0:
            return Check("all on the cloth", False, f"{_name(one)} lies on a flaw with {hit / 100:.2f} cm².")
        if fault := _off_section(one, lay):
            return Check("all on the cloth", False, fault)
    flawed = f", clear of {len(cloth.flaws)} flaw{'s' if len(cloth.flaws) > 1 else ''}" if cloth.flaws else ""
    return Check("all on the cloth", True, f"{len(lay.laid)} pieces lie within {cloth.width / 10:.1f} cm by "
                                           f"{lay.length / 10:.1f} cm{flawed}.")


def _off_section(one: Laid, lay: Lay) -> str:
    """What is wrong with where a piece lies in its section, or nothing."""
    section = lay.sections[one.section]
    xs, ys = [p.real for p in one.outline], [p.imag for p in one.outline]
    if min(xs) < section.start - TOUCH or max(xs) > section.start + section.length + TOUCH:
        return f"{_name(one)} reaches beyond the section that it is cut from."
    depth = section.fold_depth
    if depth is None:
        return "" if one.layer is Layer.SINGLE else f"{_name(one)} is to be cut double where the cloth lies open."
    if one.layer is Layer.SINGLE:
        return f"{_name(one)} is to be cut single where the cloth lies double." if min(ys) < depth - TOUCH else ""
    return f"{_name(one)} is to be cut double where the cloth lies single." if max(ys) > depth + TOUCH else ""


# -- grain, counts, hands ---------------------------------------------------------------------------


def _grain(lay: Lay) -> Check:
    most = 0.0
    for one in lay.laid:
        if lay.cloth.border > 0.0 and one.piece.hem and one.pose.turn % 180.0 == 90.0:
            continue  # its hem is looked at with the border
        off = _off_grain(one.pose.turn % 360.0, lay.cloth.one_way)
        if off > lay.cloth.grain_tolerance + 1e-9:
            wrong_way = lay.cloth.one_way and abs(_off_grain(one.pose.turn % 360.0, False)) <= 1e-9
            return Check("grain right", False, f"{_name(one)} lies against the direction of the cloth." if wrong_way
                         else f"{_name(one)} lies {off:.2f} degrees off the grain.")
        most = max(most, off)
    way = ", all heads one way" if lay.cloth.one_way else ""
    return Check("grain right", True, f"No piece is more than {most:.2f} degrees off the grain{way}.")


def _off_grain(turn: float, one_way: bool) -> float:
    """Degrees between a piece's grain and the selvedge."""
    return min(abs(turn - straight) for straight in ((0.0, 360.0) if one_way else (0.0, 180.0, 360.0)))


def _border(lay: Lay) -> Check:
    on_it = 0
    for one in lay.laid:
        if one.pose.turn % 180.0 != 90.0:
            continue
        off = lay.cloth.width - max(p.imag for p in one.outline)
        hem = min(_where(one, f"{one.piece.hem} {end}", lay)[1] for end in ("start", "end"))
        if off > TOUCH or hem < lay.cloth.width - lay.cloth.border:
            return Check("hems on the border", False, f"The hem of {_name(one)} ends {off:.1f} mm from the selvedge, "
                                                      f"its line {lay.cloth.width - hem:.1f} mm from it.")
        on_it += 1
    return Check("hems on the border", True, f"{on_it} hem{'' if on_it == 1 else 's'} along the far selvedge.")


def _counts(lay: Lay, pieces: Sequence[CutPiece]) -> Check:
    there = {key: sorted(one.copy for one in ones) for key, ones in _by_piece(lay).items()}
    for piece in pieces:
        copies = there.pop((piece.make, piece.name), [])
        if copies != list(range(1, piece.count + 1)):
            return Check("every piece there", False,
                         f'"{piece.name}" is to be cut {piece.count} times; the lay has {len(copies)}.')
    if there:
        return Check("every piece there", False, f'"{next(iter(there))[1]}" is not to be cut from this cloth.')
    return Check("every piece there", True, f"{len(pieces)} pattern pieces, {sum(p.count for p in pieces)} cut.")


def _hands(lay: Lay, pieces: Sequence[CutPiece]) -> Check:
    paired = 0
    for piece in pieces:
        ones = [one for one in lay.laid if (one.piece.make, one.piece.name) == (piece.make, piece.name)]
        if fault := _unpaired_layers(ones):
            return Check("pairs right", False, fault)
        if piece.even or not lay.cloth.sided:
            continue
        others = sum(other_hand(one) for one in ones)
        if piece.mirrored and abs(len(ones) - 2 * others) > len(ones) % 2:
            return Check("pairs right", False, f'"{piece.name}" is a pair, but {len(ones) - others} lie as drawn and '
                                               f"{others} mirrored.")
        if not piece.mirrored and others:
            return Check("pairs right", False, f'"{piece.name}" lies mirrored on a cloth that has a right side.')
        paired += piece.mirrored and piece.count // 2
    return Check("pairs right", True, f"{paired} pair{'' if paired == 1 else 's'} with one of each hand."
                 if lay.cloth.sided else "Both sides of the cloth are alike, so any two make a pair.")


def _unpaired_layers(ones: Iterable[Laid]) -> str:
    """Of a double layer, every upper copy lies on a lower one."""
    ones = list(ones)
    upper, lower = (Counter((o.pose, o.at, o.section) for o in ones if o.layer is layer)
                    for layer in (Layer.UPPER, Layer.LOWER))
    return f"{_name(ones[0])} is cut double, but its two layers do not lie on each other." if upper != lower else ""


def _by_piece(lay: Lay) -> dict[tuple[str, str], list[Laid]]:
    found: dict[tuple[str, str], list[Laid]] = {}
    for one in lay.laid:
        found.setdefault((one.piece.make, one.piece.name), []).append(one)
    return found


# -- folds and shapes -------------------------------------------------------------------------------


def _folds(lay: Lay) -> Check:
    farthest, count = 0.0, 0
    for one in lay.laid:
        if one.piece.on_fold != (one.layer is Layer.BOTH):
            return Check("folds on the fold", False, f"{_name(one)} is half a piece and does not lie on the fold."
                         if one.piece.on_fold else f"{_name(one)} is a whole piece laid on the fold.")
        if one.piece.on_fold:
            count += 1
            off = max(abs(y) for y in _fold_edge(one))
            farthest = max(farthest, off)
            if off > ON_FOLD:
                return Check("folds on the fold", False, f"The fold edge of {_name(one)} is {off:.3f} mm off the fold.")
    return Check("folds on the fold", True, f"{count} fold edge{'s' if count != 1 else ''} exactly on the fold "
                                            f"(at most {farthest:.6f} mm off).")


def _fold_edge(one: Laid) -> tuple[float, ...]:
    """y of both ends of its fold edge, and the lowest y that any of it takes up."""
    on_axis = [p for p in one.piece.outline if p.imag == 0.0]
    ends = (min(on_axis, key=lambda p: p.real), max(on_axis, key=lambda p: p.real)) if on_axis else one.piece.outline
    return (*((one.pose.of(p) + one.at).imag for p in ends), min(p.imag for p in one.outline))


def _shapes(lay: Lay, pieces: Sequence[CutPiece]) -> Check:
    by_name = {(p.make, p.name): p for p in pieces}
    worst = 0.0
    for one in lay.laid:
        piece = by_name.get((one.piece.make, one.piece.name))
        off = float("inf") if piece is None else _differs(one, piece)
        worst = max(worst, off)
        if off > SHAPE:
            return Check("shapes true", False, f"{_name(one)} is not laid in its own shape.")
    return Check("shapes true", True, f"Every outline is its piece's cutting line within {worst:.4f} mm.")


def _differs(one: Laid, piece: CutPiece) -> float:
    """How far the outline on the lay is from its piece, brought back to where the piece was drawn (mm)."""
    from shapely import union_all
    from shapely.geometry import Polygon

    drawn = Polygon([(p.real, p.imag) for p in piece.outline])
    if piece.on_fold and not one.piece.on_fold:
        half = Polygon([(p.real, -p.imag) for p in piece.outline])
        drawn = union_all([drawn, half])
    way = one.pose.of(1 + 0j)
    points = [(p - one.pose.of(0j) - one.at) * way.conjugate() for p in one.outline]
    if one.pose.mirrored:
        points = [p.conjugate() for p in points]
    laid = Polygon([(p.real, p.imag) for p in points])
    x, y = (drawn.bounds[k] - laid.bounds[k] for k in (0, 1))
    moved = Polygon([(p.real + x, p.imag + y) for p in points])
    return max(moved.hausdorff_distance(drawn), abs(moved.area - drawn.area) / max(drawn.length, 1.0))


def _length(lay: Lay) -> Check:
    end = max((p.real for one in lay.laid for p in one.outline), default=0.0)
    if abs(end - lay.length) > TOUCH:
        return Check("length right", False, f"The last piece ends at {end / 10:.2f} cm, but the lay says "
                                            f"{lay.length / 10:.2f} cm.")
    return Check("length right", True, f"The last piece ends at {end / 10:.2f} cm, as the lay says.")


# -- stripes ----------------------------------------------------------------------------------------


def _stripes(lay: Lay, meetings: Sequence[Meeting]) -> Check:
    laid = _by_piece(lay)
    worst = 0.0
    for meeting in meetings:
        for pitch, first, counts, axis in ((lay.cloth.repeat.along, lay.cloth.repeat.first_along, meeting.along, 0),
                                           (lay.cloth.repeat.across, lay.cloth.repeat.first_across, meeting.across, 1)):
            if not counts or pitch <= 0.0:
                continue
            phases = [(_where(one, mark, lay)[axis] - first) % pitch
                      for key, mark in zip(meeting.pieces, meeting.marks, strict=True) for one in laid.get(key, [])]
            if len(meeting.pieces) == 1:
                phases.append(0.0)
            off = max((_apart(p, phases[0], pitch) for p in phases), default=0.0)
            worst = max(worst, off)
            if off > STRIPE:
                return Check("stripes meet", False, f"At {meeting.seam} the stripes miss each other by {off:.1f} mm.")
    return Check("stripes meet", True, f"{len(meetings)} places matched, none off by more than {worst:.2f} mm.")


def _where(one: Laid, mark: str, lay: Lay) -> tuple[float, float]:
    """A mark of a piece on the open cloth."""
    at = next(m.at for m in one.piece.marks if m.name == mark)
    p = one.pose.of(at) + one.at
    depth = lay.sections[one.section].fold_depth
    y = p.imag if depth is None else (depth - p.imag if one.layer is Layer.UPPER else depth + p.imag)
    return p.real, y


def _apart(a: float, b: float, pitch: float) -> float:
    off = abs(a - b) % pitch
    return min(off, pitch - off)


def _name(one: Laid) -> str:
    whose = f" of {one.piece.make}" if one.piece.make else ""
    return f'"{one.piece.name}"{whose} (copy {one.copy})'

