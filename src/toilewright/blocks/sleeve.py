"""Set-in sleeve to the elbow: our own draft, made to measure for a given armhole.

The draft, in words. The biceps line is the upper arm and its ease. The cap is as high as it has to be for its curve to
measure the armhole and the cap ease; front and back halves are drawn each for their own armhole, so the shoulder
point lies at the top of the cap, on the grain. The front half is hollower low down and rounder above than the back
half. Below the notches the cap is sewn without ease; of the ease, somewhat more than half lies behind.

Cap ease: textbooks ask 1 to 1 1/2 in, others 1/2 to 3/4 (common practice, sources disagree); ours is 25 mm.
Ease at the upper arm: 2 in or more at the biceps line (Threads magazine, 27 September 2021, on set-in sleeves).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from toilewright.blocks.draft import SEAM, Measures, across, curve, measure, settled, upright
from toilewright.geometry.meeting import ray_meeting
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.pattern.parts import Cut, Edge, InnerLine, Landmark, Notch
from toilewright.pattern.piece import Piece


@dataclass(frozen=True, slots=True)
class SleeveEase:
    """Ease of the sleeve in mm, its taper to the hem on each side, and its length as a share of the arm's.

    The ease at the upper arm is a fixed part and a share of the arm's girth: larger arms change more when they bend.
    """

    upper_arm: float = 20.0
    upper_arm_share: float = 0.14
    cap: float = 25.0
    cap_in_front: float = 0.44
    taper: float = 10.0
    length: float = 0.56


def draft_sleeve(body: Measures, front: Piece, back: Piece, ease: SleeveEase | None = None) -> Piece:
    """The sleeve that fits the armholes of a bodice front and back.

    Args:
        body: measures by ISO 8559-1 name (mm).
        front, back: bodice pieces with an edge `armhole`, walked from the underarm to the shoulder, and notches
            `front notch` and `back notch` on it.

    Raises:
        InputError: a measure is missing.
    """
    ease = ease or SleeveEase()
    length = ease.length * measure(body, "arm length")
    front_half, back_half = fitted_cap(body, front, back, ease, lambda height: complex(ease.taper, length - height))
    return _drawn(front_half, back_half, front_half.end.imag - length, ease.taper,
                  (notch_place(front, "front notch"), notch_place(back, "back notch")))


def fitted_cap(body: Measures, front: Piece, back: Piece, ease: SleeveEase,
               underarm: Callable[[float], Point]) -> tuple[Path, Path]:
    """The cap in two halves, from the front underarm over the top on the grain to the back underarm; biceps at 0.

    Args:
        underarm: direction of the front underarm seam, upwards, for a height of the cap.

    Raises:
        InputError: a measure is missing.
        GeometryError: no cap of this width fits the armhole.
    """
    biceps = measure(body, "upper arm girth") * (1 + ease.upper_arm_share) + ease.upper_arm
    front_cap = front.edge("armhole").path.length + ease.cap_in_front * ease.cap
    back_cap = back.edge("armhole").path.length + (1 - ease.cap_in_front) * ease.cap

    def halves(height: float) -> tuple[Path, Path]:
        up = unit(underarm(height))
        return (_half_of_length(_FRONT, front_cap, height, up, biceps / 2),
                _half_of_length(_BACK, back_cap, height, up, biceps / 2))

    def too_narrow(height: float) -> float:
        one, other = halves(height)
        return biceps - one.start.real - other.start.real

    height = settled(too_narrow, 0.5 * (front_cap + back_cap) - 0.42 * biceps)
    front_half, back_half = halves(height)
    return front_half, back_half.mirrored(0j, 1j).reversed()


@dataclass(frozen=True, slots=True)
class _Shape:
    """Half a cap: where it turns from hollow to round (share of the straight line from the underarm up), how much
    steeper than that line it runs there, and how far it clings to that steep line below and above (shares)."""

    turns: float
    steeper: float
    below: float
    above: float


_FRONT = _Shape(0.42, 1.80, 0.60, 0.66)
_BACK = _Shape(0.40, 1.62, 0.52, 0.66)


def _half(shape: _Shape, width: float, height: float, up: Point) -> Path:
    """From the underarm at (width, 0), square to the underarm seam, to the top at (0, height), level there.

    Where it turns from hollow to round it is straight for a moment (one handle of each curve lies on the tangent
    there), so that no bump shows.
    """
    start, top = complex(width, 0), complex(0, height)
    turns = start + (top - start) * shape.turns
    steep = complex(-width, height * shape.steeper)
    low = ray_meeting(start, up * 1j, turns, steep) or turns
    high = ray_meeting(turns, steep, top, 1) or turns
    return Path((start, turns, top), (
        (low, turns + (low - turns) * shape.below),
        (turns + (high - turns) * shape.above, high)))


def _half_of_length(shape: _Shape, length: float, height: float, up: Point, about: float) -> Path:
    width = settled(lambda w: _half(shape, w, height, up).length - length, about)
    return _half(shape, width, height, up)


def notch_place(piece: Piece, name: str) -> float:
    """Where a notch of that name lies on its edge (mm)."""
    return next(n.at for n in piece.notches if n.name == name)


def _drawn(front_half: Path, back_half: Path, low: float, taper: float, notches: tuple[float, float]) -> Piece:
    """The piece around a cap given in two halves, front first."""
    under_front, top, under_back = front_half.start, front_half.end, back_half.end
    hem_front = complex(under_front.real - taper, low)
    hem_back = complex(under_back.real + taper, low)
    third = (hem_front.real - hem_back.real) / 3
    hem = curve(hem_back, -1j * (under_back - hem_back), third, hem_front, -1j * (under_front - hem_front), third)
    cap = Path.joined([front_half, back_half])
    seam_back = Path.line(under_back, hem_back)
    middle = (hem_front + under_front) / 2
    return Piece(
        "sleeve",
        (Edge("hem", hem, allowance=SEAM),
         Edge("underarm front", Path.line(hem_front, under_front), allowance=SEAM),
         Edge("cap", cap, allowance=SEAM),
         Edge("underarm back", seam_back, allowance=SEAM)),
        notches=(Notch("front notch", "cap", notches[0]),
                 Notch("shoulder point", "cap", front_half.length),
                 Notch("back notch", "cap", cap.length - notches[1], 2),
                 Notch("frill notch", "hem", hem.length / 2)),
        grain=upright(0.0, low + 40.0, top.imag - 40.0),
        landmarks=(Landmark("shoulder point", top),),
        lines=(InnerLine("biceps line", Path.line(under_back, under_front)),
               across("lengthen or shorten", Path.line(hem_front, under_front), middle.imag,
                      (hem_back.real + under_back.real) / 2)),
        cut=Cut(2, mirrored=True))
