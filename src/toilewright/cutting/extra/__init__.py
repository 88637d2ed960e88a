"""Strips and extra pieces: what a garment needs beside the pattern's pieces, each cut, marked and sewn to its place.

A new kind is one module with a tuple ``KINDS``, named in :data:`ROOMS`.
"""

from __future__ import annotations

from toilewright.cutting.extra import (
    bias,
    buttonholes,
    casing,
    circle_skirt,
    facings,
    frills,
    interfacing,
    joins,
    lining,
    patch_pockets,
    seam_pockets,
    ties,
    waistband,
)
from toilewright.cutting.extra.kinds import Asks, Built, Figure, Kind, Option, Sum
from toilewright.errors import NameUnknown

ROOMS = (ties, bias, frills, circle_skirt, waistband, patch_pockets, seam_pockets, facings, interfacing, lining,
         casing, buttonholes, joins)

KINDS: tuple[Kind, ...] = tuple(kind for room in ROOMS for kind in room.KINDS)


def find_kind(name: str) -> Kind:
    """The kind of that name or alias.

    Raises:
        NameUnknown: there is none (the nearest is offered).
    """
    plain = " ".join(name.lower().replace("_", " ").replace("-", " ").split())
    for kind in KINDS:
        if plain == kind.name or plain in kind.aliases:
            return kind
    raise NameUnknown.among("kind of extra piece", name, [n for k in KINDS for n in (k.name, *k.aliases)],
                            listed=[k.name for k in KINDS])


__all__ = ["KINDS", "Asks", "Built", "Figure", "Kind", "Option", "Sum", "find_kind"]
