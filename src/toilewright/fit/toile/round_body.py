"""Ease round the body at six levels: upper bust, bust, under the bust, waist, high hip, hip.

Four of them are flat lengths; the upper bust is measured at the underarm, and under the bust where the ribs are. On the
bodice all are measured across the grain with the darts closed, half a piece counted twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from toilewright.fit.flat.laid import Laid, Read, girth
from toilewright.fit.handbook import RULES
from toilewright.fit.levels import place, width_at
from toilewright.fit.toile.aim import Aim, Held
from toilewright.known import Known, Origin

LEVELS = {"upper bust": "upper bust girth", "bust": "bust girth", "under bust": "under-bust girth",
          "waist": "waist girth", "high hip": "high hip girth", "hip": "hip girth"}
"""The six levels from above down, and the measure that is taken there."""

UNDER_BUST = 75.0
"""mm below the bust point; where the ribs are measured close under the bust (common practice, no published source)."""

HAIR = 1e-3
"""mm; a level at a corner only touches the outline there, so it is taken a hair below it."""

_TIGHT = {"bust": "too tight at the bust", "waist": "too tight at the waist", "high hip": "too tight at the high hip",
          "hip": "too tight at the hip"}


def eases(laid: Laid | None, held: Held) -> Iterator[Aim]:
    """The ease at each level that the pieces and her sheet show.

    Args:
        laid: the pieces; None for a pattern that is known by a tape alone, which has fewer levels.
    """
    for level, measure in LEVELS.items():
        drawn, hers = _drawn(laid, held, level), held.hers(measure)
        if drawn is not None and hers is not None:
            yield _ease(held, level, drawn, hers)


def _drawn(laid: Laid | None, held: Held, level: str) -> Known | None:
    if level in ("upper bust", "under bust"):
        read = None if laid is None else _on_bodice(laid, level)
        return read and read.value
    return held.flat.get(level)


def _on_bodice(laid: Laid, level: str) -> Read | None:
    """At the underarm, or so far below the bust, of every piece round the body."""
    heights, _ = laid.levels
    parts = []
    for side in ("front", "back"):
        panels = [p for p in laid.half(side) if p.name in heights]
        arms = [(p, arm) for p in panels for arm in [place(p, "underarm")] if arm is not None]
        if not arms:
            return None
        piece, arm = arms[0]
        over = arm.imag - HAIR - heights[piece.name] if level == "upper bust" else -UNDER_BUST
        parts += [(p, width_at(p, heights[p.name] + over)) for p in panels]
    return girth(parts, "at the underarm, across the grain" if level == "upper bust"
                 else "under the bust, across the grain, darts closed", spread=3.0)


def _ease(held: Held, level: str, drawn: Known, hers: Known) -> Aim:
    ease, spread = drawn.value - hers.value, hypot(drawn.spread or 0.0, hers.spread or 0.0)
    rule = RULES.get(level)
    least = rule.minimum if rule else 0.0
    short = ease < least - 0.5
    where = "under the bust" if level == "under bust" else f"at the {level}"
    said = f"{held.show(ease)} {'of ease' if ease >= 0 else 'too little'} {where}, give or take {held.show(spread)}"
    if rule and short:
        said += f"; the handbooks ask {held.show(least)} at least"
    if hers.origin is Origin.ESTIMATED:
        said += ". Her measure is estimated; take it before you cut the cloth"
    origin = Origin.ESTIMATED if hers.origin is Origin.ESTIMATED else drawn.origin
    by = Known(ease, origin, spread, f"{drawn.reason}, minus the body")
    sign = _TIGHT.get(level, "") if short else ""
    return Aim(f"ease at the {level}", by, drawn, hers, f"{said}.", sign, least - ease)
