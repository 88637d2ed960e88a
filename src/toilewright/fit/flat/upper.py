"""Lengths of a bodice and its sleeve laid flat (mm; slopes in degrees)."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees

from toilewright.fit.flat.laid import TOLD_FROM_DART, Laid, Read, length, level_of, sewn
from toilewright.fit.levels import centre_edge, crossings, depth_below, place, width_at
from toilewright.geometry.point import Point
from toilewright.known import Origin
from toilewright.pattern.parts import Dart
from toilewright.pattern.piece import Piece

NEAR_BUST = 40.0
"""mm; a seam or dart that passes nearer than this to the bust point stands for the way over it."""


# -- down the body -----------------------------------------------------------------------------------


def centre_back_length(laid: Laid) -> Read | None:
    """From the nape to the waist, along the centre."""
    return _centre(laid, "back")


def centre_front_length(laid: Laid) -> Read | None:
    """From the neck to the waist, along the centre."""
    return _centre(laid, "front")


def _centre(laid: Laid, side: str) -> Read | None:
    name = f"centre {side}"
    piece = next((p for p in laid.half(side) if p.has_edge(name)), None)
    if piece is None:
        return None
    path = piece.edge(name).path
    if piece.has_edge("waist"):
        return length(piece.sewn_length(name), "along the centre", piece)
    level = level_of(piece, "waist line")
    top = max(path.start.imag, path.end.imag)
    return None if level is None else length(top - level, "along the centre, down to the waist line,", piece)


def back_length(laid: Laid) -> Read | None:
    """From the neck point straight down to the level of the waist at the centre."""
    back = laid.main("back")
    neck = place(back, "neck point") if back else None
    if back is None or neck is None:
        return None
    waist = place(back, "centre waist")
    level = level_of(back, "waist line") if waist is None else waist.imag
    return None if level is None else length(neck.imag - level, "from the neck point down to the waist", back)


def front_length(laid: Laid) -> Read | None:
    """From the neck point over the bust point to the waist."""
    front, found = laid.main("front"), laid.bust
    neck = place(front, "neck point") if front else None
    if front is None or neck is None or found is None:
        return None
    piece, spot = found
    down = _over_bust_to_waist(piece, spot.at)
    if down is None:
        return None
    return length(abs(neck - _on(front, laid, piece, spot.at)) + down,
                  "from the neck point over the bust point to the waist seam", front)


def _down(piece: Piece, at: Point) -> float | None:
    """Straight down from a point of an upright piece to its waist seam or waist line (mm); None without either."""
    if piece.has_edge("waist"):
        return depth_below(piece, at)
    level = level_of(piece, "waist line")
    return None if level is None else at.imag - level


def _over_bust_to_waist(front: Piece, bust: Point) -> float | None:
    """Down from the bust point: along the leg of the dart that stands below it, or along a princess seam."""
    dart = next((d for d in front.darts_on("waist") if abs(d.apex.real - bust.real) < 30 and d.apex.imag < bust.imag),
                None)
    if dart is not None:
        return abs(bust - dart.apex) + sum(abs(f - dart.apex) for f in front.feet(dart)) / 2
    if front.has_edge("princess seam"):
        path = front.edge("princess seam").path
        at, away = path.nearest(bust)
        if away < NEAR_BUST and front.has_edge("waist"):
            return path.length - at if path.end.imag < path.start.imag else at
    return _down(front, bust)


def _on(front: Piece, laid: Laid, piece: Piece, at: Point) -> Point:
    """A point of another front piece as it lies on the main one: both stand upright, their bust levels even."""
    if piece is front:
        return at
    levels, _ = laid.levels
    return at + 1j * (levels[front.name] - levels[piece.name]) if front.name in levels else at


# -- bust --------------------------------------------------------------------------------------------


def neck_to_bust(laid: Laid) -> Read | None:
    """From the neck point to the bust point."""
    front, found = laid.main("front"), laid.bust
    neck = place(front, "neck point") if front else None
    if front is None or neck is None or found is None:
        return None
    told = found[1].origin is Origin.READ
    return length(abs(_on(front, laid, found[0], found[1].at) - neck),
                  "from the neck point to the bust point" + ("" if told else " as the bust dart tells it"), front,
                  error=0.5 if told else TOLD_FROM_DART, origin=found[1].origin)


def bust_to_centre(laid: Laid) -> Read | None:
    """From the bust point across to the centre front."""
    found = laid.bust
    away = None if found is None else to_centre(found[0], found[1].at)
    if found is None or away is None:
        return None
    told = found[1].origin is Origin.READ
    return length(away, "from the bust point to the centre", found[0], error=0.5 if told else TOLD_FROM_DART,
                  origin=found[1].origin)


def neck_to_dart(laid: Laid) -> Read | None:
    """From the neck point to the point of the bust dart."""
    front, dart = _dart(laid)
    neck = place(front, "neck point") if front else None
    if front is None or dart is None or neck is None:
        return None
    return length(abs(dart.apex - neck), "from the neck point to the point of the bust dart", front)


def dart_to_centre(laid: Laid) -> Read | None:
    """From the point of the bust dart across to the centre front."""
    front, dart = _dart(laid)
    away = to_centre(front, dart.apex) if front and dart else None
    return length(away, "from the point of the bust dart to the centre", front) if front and away is not None else None


def _dart(laid: Laid) -> tuple[Piece | None, Dart | None]:
    found = ((p, d) for p in laid.half("front") for d in p.darts if d.name == "bust dart")
    return next(found, (None, None))


def to_centre(piece: Piece, at: Point) -> float | None:
    """Across the grain from a point to the centre of its piece (mm); None where the piece has no centre."""
    centre = centre_edge(piece)
    if centre is None:
        return None
    path = piece.edge(centre).path
    return abs((at - path.point_at(path.nearest(at)[0])).real)


# -- shoulder, neck, armhole -------------------------------------------------------------------------


def shoulder(laid: Laid, side: str) -> Read | None:
    """Along the shoulder seam, darts closed."""
    parts = sewn(laid.half(side), "shoulder")
    return _added(parts, "along the shoulder seam")


def slope(laid: Laid, side: str) -> Read | None:
    """Fall of the shoulder seam from the level, from the neck point to the shoulder tip, panel by panel (degrees)."""
    pieces = [p for p in laid.half(side) if p.has_edge("shoulder")]
    ends = [_shoulder_ends(p) for p in pieces]
    if not all(any(place(p, name) is not None for p in pieces) for name in ("neck point", "shoulder tip")):
        return None
    by = sum(complex(abs((tip - neck).real), (tip - neck).imag) for neck, tip in ends)
    return length(degrees(atan2(-by.imag, by.real)), "fall of the shoulder seam", *pieces, error=0.4)


def _shoulder_ends(piece: Piece) -> tuple[Point, Point]:
    """Where the shoulder seam of a piece begins at the neck and ends at the tip; a panel shows one of them by name."""
    path = piece.edge("shoulder").path
    neck, tip = place(piece, "neck point"), place(piece, "shoulder tip")
    if tip is None:
        tip = max((path.start, path.end), key=lambda z: abs(z - (neck if neck is not None else path.start)))
    if neck is None:
        neck = max((path.start, path.end), key=lambda z: abs(z - tip))
    return neck, tip


def neck(laid: Laid, side: str) -> Read | None:
    """Along the neck from the centre to the neck point, darts closed."""
    return _added(sewn(laid.half(side), "neck"), "along the neck")


def neck_width(laid: Laid) -> Read | None:
    """From the centre across to the neck point of the back (of the front when there is no back)."""
    for side in ("back", "front"):
        piece = laid.main(side)
        at = place(piece, "neck point") if piece else None
        away = to_centre(piece, at) if piece and at is not None else None
        if piece and away is not None:
            return length(away, "from the centre to the neck point", piece)
    return None


def armhole(laid: Laid, side: str) -> Read | None:
    """Along the armhole seam of one side."""
    return _added(sewn(laid.half(side), "armhole"), "along the armhole")


def armhole_depth(laid: Laid) -> Read | None:
    """From the nape straight down to the level of the underarm."""
    back = laid.main("back")
    nape = place(back, "nape") if back else None
    under = next(((p, z) for p in laid.half("back") if (z := place(p, "underarm")) is not None), None)
    if back is None or nape is None or under is None:
        return None
    low = _beside(laid, back, *under)
    return length(nape.imag - low.imag, "from the nape down to the level of the underarm", back)


def _beside(laid: Laid, main: Piece, piece: Piece, at: Point) -> Point:
    levels, _ = laid.levels
    both = main.name in levels and piece.name in levels
    return at + 1j * (levels[main.name] - levels[piece.name]) if both else at


def across(laid: Laid, side: str) -> Read | None:
    """From the centre to the armhole, half way down the armhole."""
    main = laid.main(side)
    pieces = laid.half(side)
    tip = next(((p, z) for p in pieces if (z := place(p, "shoulder tip")) is not None), None)
    under = next(((p, z) for p in pieces if (z := place(p, "underarm")) is not None), None)
    if main is None or tip is None or under is None or centre_edge(main) is None:
        return None
    level = (_beside(laid, main, *tip) + _beside(laid, main, *under)).imag / 2
    total = width_at(main, level)
    used = [main]
    for piece in pieces:
        own = level - _beside(laid, main, piece, 0j).imag
        if piece is not main and _reaches(piece, own):
            total += width_at(piece, own)
            used.append(piece)
    return length(total, "from the centre to the armhole, half way down it,", *used)


def _reaches(piece: Piece, level: float) -> bool:
    return bool(crossings(piece.outline.flatten(), level))


def _added(parts: Sequence[tuple[Piece, float]], words: str) -> Read | None:
    return length(sum(v for _, v in parts), words, *(p for p, _ in parts)) if parts else None


# -- sleeve ------------------------------------------------------------------------------------------


def sleeve_head(laid: Laid) -> Read | None:
    """Along the sleeve head from underarm to underarm."""
    sleeve = laid.sleeve
    return length(sleeve.sewn_length("cap"), "along the head", sleeve) if sleeve else None


def sleeve_length(laid: Laid) -> Read | None:
    """From the shoulder point at the top of the head down to the hem."""
    sleeve = laid.sleeve
    if sleeve is None or not sleeve.has_edge("hem"):
        return None
    top = head_top(sleeve)
    # Turned a quarter, so that the line straight down is a level; down is then the larger number.
    reached = max(crossings([z * 1j for z in sleeve.outline.flatten()], top.real), default=-top.imag)
    return length(top.imag + reached, "from the top of the head down to the hem", sleeve)


def head_top(sleeve: Piece) -> Point:
    """The shoulder point of an upright sleeve: as marked, else the highest point of its head."""
    drawn = sleeve.landmark("shoulder point")
    if drawn is not None:
        return drawn
    cap = sleeve.edge("cap").path
    notch = next((n for n in sleeve.notches if n.name == "shoulder point" and n.edge == "cap"), None)
    return cap.point_at(notch.at) if notch else max(cap.flatten(), key=lambda z: z.imag)


def underarm_length(laid: Laid) -> Read | None:
    """Along the underarm seam of the sleeve."""
    sleeve = laid.sleeve
    name = next((e for e in ("underarm front", "underarm back") if sleeve and sleeve.has_edge(e)), None)
    return length(sleeve.sewn_length(name), "along the underarm seam", sleeve) if sleeve and name else None


def elbow_height(laid: Laid) -> Read | None:
    """From the shoulder point at the top of the head down to the elbow line."""
    sleeve = laid.sleeve
    level = level_of(sleeve, "elbow line") if sleeve else None
    if sleeve is None or level is None:
        return None
    return length(head_top(sleeve).imag - level, "from the top of the head down to the elbow line", sleeve)
