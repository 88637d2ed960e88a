"""Stripes, checks and borders of a lay, looked at on the open cloth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from toilewright.cutting.lay.plan import Check, Laid, Lay
from toilewright.cutting.lay.reading import TOUCH, by_piece, called, where

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


def stripes(lay: Lay, meetings: Sequence[Meeting]) -> Check:
    """Do stripes and checks meet where they shall, on every copy?"""
    laid = by_piece(lay)
    worst, compared = 0.0, 0
    for meeting in meetings:
        copies = [laid.get(key, []) for key in meeting.pieces]
        if not all(copies):
            continue
        compared += 1
        if meeting.along and lay.cloth.repeat.along > 0.0 and len({_way(one) for part in copies for one in part}) > 1:
            return Check("stripes meet", False, f"At {meeting.seam} the pieces lie head against head, so their stripes "
                                                "run on in one piece and back in the other.")
        for pitch, first, counts, axis in ((lay.cloth.repeat.along, lay.cloth.repeat.first_along, meeting.along, 0),
                                           (lay.cloth.repeat.across, lay.cloth.repeat.first_across, meeting.across, 1)):
            if not counts or pitch <= 0.0:
                continue
            phases = [(where(one, mark, lay)[axis] - first) % pitch
                      for part, mark in zip(copies, meeting.marks, strict=True) for one in part]
            if len(meeting.pieces) == 1:
                phases.append(0.0)
            off = max((_apart(p, phases[0], pitch) for p in phases), default=0.0)
            worst = max(worst, off)
            if off > STRIPE:
                return Check("stripes meet", False, f"At {meeting.seam} the stripes miss each other by {off:.1f} mm.")
    left = len(meetings) - compared
    more = f" {left} more lead to pieces that are not cut from this cloth." if left else ""
    return Check("stripes meet", True, f"{compared} places matched, none off by more than {worst:.2f} mm.{more}")


def _way(one: Laid) -> int:
    """Quarter turns of a piece on the cloth, its little turn within the grain's tolerance left out."""
    return round(one.pose.turn / 90.0) % 4


def _apart(a: float, b: float, pitch: float) -> float:
    off = abs(a - b) % pitch
    return min(off, pitch - off)


def border(lay: Lay) -> Check:
    """Do the hems of all pieces that lie crossways lie along the far selvedge?"""
    on_it = 0
    for one in lay.laid:
        if one.pose.turn % 180.0 != 90.0 or not one.piece.hem:
            continue
        off = lay.cloth.width - max(p.imag for p in one.outline)
        hem = min(where(one, f"{one.piece.hem} {end}", lay)[1] for end in ("start", "end"))
        if off > TOUCH or hem < lay.cloth.width - lay.cloth.border:
            return Check("hems on the border", False, f"The hem of {called(one)} ends {off:.1f} mm from the selvedge, "
                                                      f"its line {lay.cloth.width - hem:.1f} mm from it.")
        on_it += 1
    return Check("hems on the border", True, f"{on_it} hem{'' if on_it == 1 else 's'} along the far selvedge.")
