"""Grain, counts, hands, folds and shapes of the pieces of a lay, looked at one piece after the other."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from toilewright.cutting.lay.plan import Check, CutPiece, Laid, Lay, Layer
from toilewright.cutting.lay.reading import by_piece, called, other_hand

ON_FOLD = 1e-6
"""mm; a fold edge lies exactly on the fold when no corner of it is farther away."""

EVEN = 0.1
"""mm; a piece that is cut double without being a pair may differ so much from its mirror image (a pen line is 0.3)."""

SHAPE = 1e-3
"""mm; how far an outline on the lay may differ from the piece it stands for."""


def grain(lay: Lay) -> Check:
    """Does every piece lie along the grain, within what the cloth allows, and one way where it has a direction?"""
    most = 0.0
    for one in lay.laid:
        if lay.cloth.border > 0.0 and one.piece.hem and one.pose.turn % 180.0 == 90.0:
            continue  # its hem is looked at with the border
        off = _off_grain(one.pose.turn % 360.0, lay.cloth.one_way)
        if off > lay.cloth.grain_tolerance + 1e-9:
            wrong_way = lay.cloth.one_way and abs(_off_grain(one.pose.turn % 360.0, False)) <= 1e-9
            return Check("grain right", False, f"{called(one)} lies against the direction of the cloth." if wrong_way
                         else f"{called(one)} lies {off:.2f} degrees off the grain.")
        most = max(most, off)
    way = ", all heads one way" if lay.cloth.one_way else ""
    return Check("grain right", True, f"No piece is more than {most:.2f} degrees off the grain{way}.")


def _off_grain(turn: float, one_way: bool) -> float:
    """Degrees between a piece's grain and the selvedge."""
    return min(abs(turn - straight) for straight in ((0.0, 360.0) if one_way else (0.0, 180.0, 360.0)))


def counts(lay: Lay, pieces: Sequence[CutPiece]) -> Check:
    """Is every piece there as often as it is cut, and nothing else?"""
    there = {key: sorted(one.copy for one in ones) for key, ones in by_piece(lay).items()}
    for piece in pieces:
        copies = there.pop((piece.make, piece.name), [])
        if copies != list(range(1, piece.count + 1)):
            return Check("every piece there", False,
                         f'"{piece.name}" is to be cut {piece.count} times; the lay has {len(copies)}.')
    if there:
        return Check("every piece there", False, f'"{next(iter(there))[1]}" is not to be cut from this cloth.')
    return Check("every piece there", True, f"{len(pieces)} pattern pieces, {sum(p.count for p in pieces)} cut.")


def hands(lay: Lay, pieces: Sequence[CutPiece]) -> Check:
    """Has every pair one of each hand, and does nothing else lie mirrored where the cloth has a right side?"""
    paired = 0
    for piece in pieces:
        ones = [one for one in lay.laid if (one.piece.make, one.piece.name) == (piece.make, piece.name)]
        if fault := _unpaired_layers(ones):
            return Check("pairs right", False, fault)
        if piece.even and not piece.on_fold and (off := _uneven(piece)) > EVEN:
            return Check("pairs right", False, f'"{piece.name}" is taken for its own mirror image, but differs from it '
                                               f"by {off:.2f} mm.")
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


def _uneven(piece: CutPiece) -> float:
    """How far a piece is from its mirror image in the line along its grain (mm)."""
    from shapely.geometry import Polygon

    over = max(p.imag for p in piece.outline) + min(p.imag for p in piece.outline)
    return Polygon([(p.real, p.imag) for p in piece.outline]).hausdorff_distance(
        Polygon([(p.real, over - p.imag) for p in piece.outline]))


def _unpaired_layers(ones: Iterable[Laid]) -> str:
    """Of a double layer, every upper copy lies on a lower one."""
    ones = list(ones)
    upper, lower = (Counter((o.pose, o.at, o.section) for o in ones if o.layer is layer)
                    for layer in (Layer.UPPER, Layer.LOWER))
    return f"{called(ones[0])} is cut double, but its two layers do not lie on each other." if upper != lower else ""


# -- folds and shapes -------------------------------------------------------------------------------


def folds(lay: Lay) -> Check:
    """Does every half piece lie with its fold edge exactly on the fold?"""
    farthest, count = 0.0, 0
    for one in lay.laid:
        if one.piece.on_fold != (one.layer is Layer.BOTH):
            return Check("folds on the fold", False, f"{called(one)} is half a piece and does not lie on the fold."
                         if one.piece.on_fold else f"{called(one)} is a whole piece laid on the fold.")
        if one.piece.on_fold:
            count += 1
            off = max(abs(y) for y in _fold_edge(one))
            farthest = max(farthest, off)
            if off > ON_FOLD:
                return Check("folds on the fold", False,
                             f"The fold edge of {called(one)} is {off:.3f} mm off the fold.")
    if not count:
        return Check("folds on the fold", True, "Nothing is cut on the fold.")
    return Check("folds on the fold", True, f"{count} fold edge{'s' if count != 1 else ''} exactly on the fold "
                                            f"(at most {farthest:.6f} mm off).")


def _fold_edge(one: Laid) -> tuple[float, ...]:
    """y of both ends of its fold edge, and the lowest y that any of it takes up."""
    on_axis = [p for p in one.piece.outline if p.imag == 0.0]
    ends = (min(on_axis, key=lambda p: p.real), max(on_axis, key=lambda p: p.real)) if on_axis else one.piece.outline
    return (*((one.pose.of(p) + one.at).imag for p in ends), min(p.imag for p in one.outline))


def shapes(lay: Lay, pieces: Sequence[CutPiece]) -> Check:
    """Is every outline that of its piece?"""
    by_name = {(p.make, p.name): p for p in pieces}
    worst = 0.0
    for one in lay.laid:
        piece = by_name.get((one.piece.make, one.piece.name))
        off = float("inf") if piece is None else _differs(one, piece)
        worst = max(worst, off)
        if off > SHAPE:
            return Check("shapes true", False, f"{called(one)} is not laid in its own shape.")
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
