"""What an independent geometry library finds about a lay: everything is unfolded onto the open cloth and looked at.

Nothing of the search is used here: outlines, folds and copies are read off the lay, the rest is shapely's.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from toilewright.cutting.lay.certificate_pieces import counts, folds, grain, hands, shapes
from toilewright.cutting.lay.certificate_repeat import Meeting, border, stripes
from toilewright.cutting.lay.plan import Certificate, Check, CutPiece, Laid, Lay, Layer
from toilewright.cutting.lay.reading import TOUCH, called, other_hand, unfolded

__all__ = ["Meeting", "certify", "other_hand", "unfolded"]


def certify(lay: Lay, pieces: Sequence[CutPiece], meetings: Sequence[Meeting] = (), gap: float = 0.0) -> Certificate:
    """Look a lay over.

    Args:
        pieces: what was to be cut from this cloth.
        meetings: where stripes and checks shall meet.
        gap: least distance between two pieces (mm).
    """
    if (plain := _plain(lay)) is not None:
        return Certificate((plain,))
    checks = [_overlaps(lay), _on_cloth(lay), grain(lay), counts(lay, pieces), hands(lay, pieces), folds(lay),
              shapes(lay, pieces), _length(lay)]
    if gap > 0.0:
        checks.insert(1, _gap(lay, gap))
    if lay.cloth.border > 0.0:
        checks.append(border(lay))
    if meetings:
        checks.append(stripes(lay, meetings))
    return Certificate(tuple(checks))


def _plain(lay: Lay) -> Check | None:
    """What keeps a lay from being looked over at all: an outline without a place, or one that crosses itself."""
    for one in lay.laid:
        if not all(isfinite(p.real) and isfinite(p.imag) for p in one.outline):
            return Check("outlines plain", False, f"{called(one)} has no place on the cloth.")
        if not unfolded(one, lay).is_valid:
            return Check("outlines plain", False, f"The outline of {called(one)} crosses itself.")
    return None


def _overlaps(lay: Lay) -> Check:
    from shapely import STRtree

    if not lay.laid:
        return Check("nothing overlaps", True, "Nothing is laid.")
    shapes = [unfolded(one, lay).buffer(-TOUCH, join_style="mitre") for one in lay.laid]
    worst, said = 0.0, ""
    for i, j in STRtree(shapes).query(shapes, predicate="intersects").T.tolist():
        if i < j and (area := shapes[i].intersection(shapes[j]).area) >= worst:
            worst, said = area, f"{called(lay.laid[i])} and {called(lay.laid[j])} overlap by {area / 100:.2f} cm²."
    return Check("nothing overlaps", not said, said or f"{len(shapes)} pieces of cloth, no two of them overlap.")


def _gap(lay: Lay, gap: float) -> Check:
    """Is there room for the shears between any two pieces, also of two sections?"""
    from shapely import STRtree

    shapes = [unfolded(one, lay) for one in lay.laid]
    least, said = float("inf"), ""
    for i, j in STRtree(shapes).query(shapes, predicate="dwithin", distance=2.0 * gap).T.tolist():
        if i >= j or _parted_by_the_fold(lay.laid[i], lay.laid[j]):
            continue
        if (apart := shapes[i].distance(shapes[j])) < least:
            least = apart
            said = (f"{called(lay.laid[i])} and {called(lay.laid[j])} lie {apart:.2f} mm apart; {gap:g} mm are asked "
                    "for.")
    if least < gap - TOUCH:
        return Check("gap kept", False, said)
    return Check("gap kept", True, f"No two pieces lie less than {min(least, 2.0 * gap):.1f} mm apart.")


def _parted_by_the_fold(one: Laid, other: Laid) -> bool:
    """Do two pieces lie one above the other on the folded cloth? They may both reach the fold, where it is cut open."""
    return one.section == other.section and {one.layer, other.layer} == {Layer.UPPER, Layer.LOWER}


def _on_cloth(lay: Lay) -> Check:
    from shapely import box, make_valid, union_all
    from shapely.geometry import Polygon

    cloth = lay.cloth
    room = box(-TOUCH, -TOUCH, lay.length + TOUCH, cloth.width + TOUCH)
    if cloth.outline is not None:
        room = room.intersection(Polygon([(p.real, p.imag) for p in cloth.outline]).buffer(TOUCH))
    if cloth.length is not None:
        room = room.intersection(box(-TOUCH, -TOUCH, cloth.length + TOUCH, cloth.width + TOUCH))
    flaws = union_all([make_valid(Polygon([(p.real, p.imag) for p in f])) for f in cloth.flaws])
    for one in lay.laid:
        shape = unfolded(one, lay)
        if (out := shape.difference(room).area) > 0.0:
            return Check("all on the cloth", False, f"{called(one)} lies outside the cloth with {out / 100:.2f} cm².")
        if shape.buffer(-TOUCH, join_style="mitre").intersects(flaws):  # the flaw may be a thread: it is not made less
            hit = shape.intersection(flaws).area
            return Check("all on the cloth", False, f"{called(one)} lies on a flaw with {hit / 100:.2g} cm².")
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
        return f"{called(one)} reaches beyond the section that it is cut from."
    depth = section.fold_depth
    if depth is None:
        return "" if one.layer is Layer.SINGLE else f"{called(one)} is to be cut double where the cloth lies open."
    if one.layer is Layer.SINGLE:
        return f"{called(one)} is to be cut single where the cloth lies double." if min(ys) < depth - TOUCH else ""
    return f"{called(one)} is to be cut double where the cloth lies single." if max(ys) > depth + TOUCH else ""


def _length(lay: Lay) -> Check:
    end = max((p.real for one in lay.laid for p in one.outline), default=0.0)
    if abs(end - lay.length) > TOUCH:
        return Check("length right", False, f"The last piece ends at {end / 10:.2f} cm, but the lay says "
                                            f"{lay.length / 10:.2f} cm.")
    return Check("length right", True, f"The last piece ends at {end / 10:.2f} cm, as the lay says.")
