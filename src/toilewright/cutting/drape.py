"""How a cloth hangs, by tests that need a table edge, a ruler and kitchen scales.

Bending length: Peirce 1930. Drape coefficient: ISO 9073-9, quoted from memory. What the numbers are called in words is
our own judgement.
"""

from __future__ import annotations

from math import cos, radians, tan

from toilewright.errors import InputError

STANDARD_ANGLE = 41.5
"""degrees below the level to which the tip of an overhanging strip sinks in the usual test (Peirce 1930)."""

SOFT, CRISP = 15.0, 30.0
"""mm of bending length; below, cloth falls close to the body, above it stands off (our own bounds)."""


def bending_length(overhang: float, angle: float = STANDARD_ANGLE) -> float:
    """Bending length of a strip slid over the edge of a table until its tip has sunk by an angle (mm).

    Half the overhang at 41.5 degrees is the rule of the laboratory; Peirce's formula gives 2 % more.

    Args:
        overhang: from the edge to the tip, along the strip (mm).
        angle: between the level and the line from the edge to the tip (degrees).

    Raises:
        InputError: no overhang, or an angle to which no strip sinks by its own weight.

    >>> round(bending_length(60.0), 1), round(bending_length(60.0, angle=7.1), 1)
    (30.6, 60.0)
    """
    if not (overhang > 0.0 and 0.0 < angle < 90.0):
        raise InputError("A bending length needs an overhang, such as 6 cm, and the angle to which the tip sinks, such "
                         "as 41.5 degrees.")
    t = radians(angle)
    return overhang * (cos(t / 2) / (8 * tan(t))) ** (1 / 3)


def flexural_rigidity(bending: float, weight: float) -> float:
    """How hard a cloth is to bend, micronewton metres.

    Args:
        bending: bending length (mm).
        weight: grams per square metre.

    >>> round(flexural_rigidity(20.0, 150.0), 2)
    11.77
    """
    return weight * 9.80665e-3 * (bending / 1000.0) ** 3 * 1e6


def drape_coefficient(shadow: float, cloth: float, support: float = 0.0) -> float:
    """Part of the free ring of a round of cloth, hung over a smaller disc, that its shadow still covers.

    The areas may be weighed: draw the shadow on a ring of paper, cut it out, and weigh both; the support is then left
    out of both.

    Args:
        shadow, cloth, support: areas, or weights of paper, in any one unit.

    Raises:
        InputError: a shadow smaller than the disc, or larger than the cloth.

    >>> round(drape_coefficient(2.1, 3.0), 2)
    0.7
    """
    if not support <= shadow <= cloth or cloth <= support or support < 0.0:
        raise InputError("The shadow of a hanging round is at least as large as the disc that carries it, and at most "
                         "as large as the cloth; measure the three again.")
    return (shadow - support) / (cloth - support)


def hangs(bending: float) -> str:
    """What a bending length means for a garment, in words (our own judgement).

    >>> hangs(12.0).split(":")[0], hangs(35.0).split(":")[0]
    ('soft', 'crisp')
    """
    if bending < SOFT:
        return "soft: it falls close to the body, for gathers, cowls and full skirts; for a firm shape interface it"
    if bending > CRISP:
        return "crisp: it stands off, for pleats, collars and shapes of their own; gathers stand out"
    return "neither soft nor crisp: most dresses, blouses and skirts are made of such cloth"
