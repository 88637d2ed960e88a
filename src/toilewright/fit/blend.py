"""Blending sizes: the bust of one size, waist and hip of others, one smooth seam line between them.

At the bust and above, neck, shoulder and armhole included, everything has the bust's size; at the waist the waist's, at
the hip and below the hip's. In between the size changes smoothly with the height on the body, by the same rule on
every piece. Pieces without these levels (sleeve, facing, waistband, tier) have the size of the seam that they hang on.
Then partners are made equal again, as equal as they are in the sizes that went in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from toilewright.errors import InputError, NameUnknown
from toilewright.fit.mixing import PLACES, mixed_piece
from toilewright.fit.partners import partners_equal
from toilewright.pattern.garment import Garment
from toilewright.pattern.nest import Pattern
from toilewright.pattern.piece import Piece

_EDGE_PLACES = {"waist": "waist", "hem": "hip", "armhole": "bust", "neck": "bust", "shoulder": "bust"}


def blend(pattern: Pattern, sizes: Mapping[str, str]) -> Garment:
    """The garment with different sizes at bust, waist and hip.

    Args:
        sizes: by place (``bust``, ``waist``, ``hip``) the name of a size, or a number between two named sizes such as
            "4.5". A place left out takes the size of the nearest place given (waist first from the bust, then the hip).

    Raises:
        NameUnknown: no such place or size.
        InputError: no size is given.
        GeometryError: a piece that cannot be blended, said with its name.
    """
    at = _places(pattern, sizes)
    if len(set(at.values())) == 1 and at["bust"].is_integer():
        return pattern.garments[int(at["bust"])]
    base = round(at["bust"])
    follow = _followed(pattern.garments[base])
    pieces = tuple(mixed_piece(pattern, piece.name, base, at, follow.get(piece.name))
                   for piece in pattern.garments[base].pieces)
    return partners_equal(replace(pattern.garments[base], pieces=pieces), pattern, at["bust"], at["waist"])


def size_place(pattern: Pattern, size: str) -> float:
    """A size as a place in the nest: 3.0 is the fourth size, 3.5 half-way to the fifth.

    Raises:
        NameUnknown: no such size, nor a number between two sizes.
    """
    size = str(size).strip()
    if size in pattern.sizes:
        return float(pattern.sizes.index(size))
    try:
        number, numbers = float(size.replace(",", ".")), [float(s) for s in pattern.sizes]
    except ValueError:
        raise NameUnknown.among("size", size, pattern.sizes, f'pattern "{pattern.name}"') from None
    for i, (low, high) in enumerate(pairwise(numbers)):
        if low <= number <= high:
            return i + (number - low) / ((high - low) or 1.0)
    raise NameUnknown.among("size", size, pattern.sizes, f'pattern "{pattern.name}"')


def _places(pattern: Pattern, sizes: Mapping[str, str]) -> dict[str, float]:
    for name in sizes:
        if name not in PLACES:
            raise NameUnknown.among("place to choose a size by", name, PLACES)
    given = {name: size_place(pattern, size) for name, size in sizes.items()}
    if not given:
        raise InputError('No size is given to blend; say at least one of "bust", "waist" and "hip".')
    order = {"bust": ("bust", "waist", "hip"), "waist": ("waist", "bust", "hip"), "hip": ("hip", "waist", "bust")}
    return {name: next(given[p] for p in order[name] if p in given) for name in PLACES}


def _followed(garment: Garment) -> dict[str, str]:
    """For pieces without levels of their own, the place whose size they have: that of the seam they hang on."""
    levelled = {p.name for p in garment.pieces if _has_levels(p)}
    found: dict[str, str] = {}
    for _ in garment.pieces:
        for seam in garment.seams:
            for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
                for ref in mine:
                    if ref.piece in levelled or ref.piece in found:
                        continue
                    places = (_EDGE_PLACES.get(t.edge) if t.piece in levelled else found.get(t.piece) for t in theirs)
                    hung = next((p for p in places if p), None)
                    if hung:
                        found[ref.piece] = hung
    return {p.name: found.get(p.name, "waist" if p.name.startswith("waist") else "bust")
            for p in garment.pieces if p.name not in levelled}


def _has_levels(piece: Piece) -> bool:
    return piece.has_edge("armhole") or (piece.has_edge("waist") and piece.has_edge("side seam"))
