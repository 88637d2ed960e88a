"""Fitting sleeve to the wrist with an elbow dart: our own draft, made to measure for a given armhole.

The draft, in words. The cap is that of the elbow sleeve (see :mod:`toilewright.blocks.sleeve`). From the biceps both
underarm seams run straight in to the wrist. At the elbow, a little under the middle of the arm, the lower arm is turned
forward by four degrees about the front seam, as an arm hangs: behind, the elbow line opens, which is the elbow dart; it
reaches half way to the middle of the sleeve. The front seam is drawn smooth over the bend and keeps its length, so
that both underarm seams are equally long once the dart is sewn. The wrist is square to the lower arm's middle.

Common practice, no published source: the elbow lies at 0.58 of the arm's length.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import radians

from toilewright.blocks.draft import SEAM, Measures, curve, level_line, measure, upright
from toilewright.blocks.sleeve import SleeveEase, fitted_cap, notch_place
from toilewright.geometry.affine import Affine
from toilewright.geometry.fairing import hermite
from toilewright.geometry.path import Path
from toilewright.geometry.point import unit
from toilewright.pattern.parts import Cut, Dart, Edge, EdgeKind, InnerLine, Landmark, Notch, Press
from toilewright.pattern.piece import Piece
from toilewright.pattern.truing import true_darts


@dataclass(frozen=True, slots=True)
class LongSleeveEase:
    """Ease of cap and upper arm, ease at the wrist (mm), place of the elbow (share of the arm), its bend (degrees)."""

    above: SleeveEase = field(default_factory=SleeveEase)
    wrist: float = 60.0
    elbow: float = 0.58
    bend: float = 4.0


def draft_long_sleeve(body: Measures, front: Piece, back: Piece, ease: LongSleeveEase | None = None) -> Piece:
    """The long sleeve that fits the armholes of a bodice front and back.

    Args:
        body: measures by ISO 8559-1 name (mm).
        front, back: pieces with an edge `armhole`, walked from the underarm to the shoulder, and notches
            `front notch` and `back notch` on it.

    Raises:
        InputError: a measure is missing.
        GeometryError: no cap fits the armhole.
    """
    ease = ease or LongSleeveEase()
    arm, wrist = measure(body, "arm length"), measure(body, "wrist girth") + ease.wrist
    biceps = measure(body, "upper arm girth") * (1 + ease.above.upper_arm_share) + ease.above.upper_arm
    front_half, back_half = fitted_cap(
        body, front, back, ease.above, lambda height: complex((biceps - wrist) / 2, arm - height))
    cap = Path.joined([front_half, back_half])
    top, elbow_y, low = front_half.end, front_half.end.imag - ease.elbow * arm, front_half.end.imag - arm
    inner, outer = cap.start, cap.end
    taper = (biceps - wrist) / 2
    wrist_front, wrist_back = complex(inner.real - taper, low), complex(outer.real + taper, low)
    hinge, elbow = (Path.line(a, b).point_at(abs(a - b) * (a.imag - elbow_y) / (a.imag - b.imag))
                    for a, b in ((inner, wrist_front), (outer, wrist_back)))
    bend = Affine.turn(radians(ease.bend), hinge)
    under_front = _bent(bend(wrist_front), hinge, inner)
    lower_elbow, wrist_back = bend(elbow), bend(wrist_back)
    under_back = Path.polyline((outer, elbow, lower_elbow, wrist_back))
    dart = abs(lower_elbow - elbow)
    apex = (elbow + lower_elbow) / 2 + unit(hinge - (elbow + lower_elbow) / 2) * (abs(elbow.real) - dart) / 2
    third = abs(under_front.start - wrist_back) / 3
    hem = curve(wrist_back, unit(wrist_back - lower_elbow) * 1j, third, under_front.start,
                under_front.start_tangent * -1j, third)
    above = abs(elbow - outer)
    return true_darts(Piece(
        "sleeve",
        (Edge("hem", hem, EdgeKind.HEM, 30.0), Edge("underarm front", under_front, allowance=SEAM),
         Edge("cap", cap, allowance=SEAM), Edge("underarm back", under_back, allowance=SEAM)),
        (Dart("elbow dart", "underarm back", above, above + dart, apex, Press.TO_END),),
        (Notch("front notch", "cap", notch_place(front, "front notch")),
         Notch("shoulder point", "cap", front_half.length),
         Notch("back notch", "cap", cap.length - notch_place(back, "back notch"), 2)),
        upright(0.0, elbow_y + 20.0, top.imag - 40.0),
        (Landmark("shoulder point", top),),
        (InnerLine("biceps line", Path.line(outer, inner)),
         level_line("elbow line", under_back, under_front, elbow.imag),
         level_line("lengthen or shorten", under_back, under_front, (elbow.imag + outer.imag) / 2)),
        Cut(2, mirrored=True)))


def _bent(wrist: complex, hinge: complex, underarm: complex) -> Path:
    """The front seam from the wrist up, smooth over the bend, as long as the straight ways to the elbow and on."""
    lower, upper = unit(hinge - wrist), unit(underarm - hinge)
    wanted = abs(hinge - wrist) + abs(underarm - hinge)
    for _ in range(6):
        seam = hermite(wrist, lower, underarm, upper)
        wrist -= lower * (wanted - seam.length)
    return hermite(wrist, lower, underarm, upper)
