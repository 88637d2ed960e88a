"""Where an allowance that she asks for takes effect: on the pattern's own edges, unless what is sewn there decides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from toilewright.cutting.allowing import AllowanceWish, places
from toilewright.errors import Finding
from toilewright.pattern.garment import Garment
from toilewright.pattern.parts import EdgeKind
from toilewright.units import show_length

Named = tuple[str, str]
"""A piece, and an edge of it."""


def heard(own: Garment, decided: Mapping[Named, str], at: str) -> tuple[Named, ...]:
    """The edges on which an allowance takes effect, in the order of the garment.

    Args:
        own: the pattern's own pieces.
        decided: by edge, the extra piece that says itself how far the cloth goes on there.
        at: as in :class:`AllowanceWish`.

    Raises:
        InputError: the words mean no edge of these pieces.
    """
    return tuple(key for key in _allowable(own, at) if key not in decided)


def overruled(own: Garment, decided: Mapping[Named, str], at: str) -> tuple[str, ...]:
    """The extra pieces that decide in the place of an allowance, each once; none where it takes effect somewhere.

    Args:
        own, decided, at: as for :func:`heard`.

    Raises:
        InputError: the words mean no edge of these pieces.
    """
    if heard(own, decided, at):
        return ()
    return tuple(dict.fromkeys(decided[key] for key in _allowable(own, at)))


def _allowable(own: Garment, at: str) -> tuple[Named, ...]:
    return tuple((piece, edge) for piece, edge in places(own, at)
                 if own.piece(piece).edge(edge).kind is not EdgeKind.FOLD)


def unheard(own: Garment, decided: Mapping[Named, str], wishes: Sequence[AllowanceWish], unit: str
            ) -> tuple[Finding, ...]:
    """What to say of allowances that change nothing.

    Args:
        own: the pattern's own pieces, finished.
        decided: as for :func:`heard`.
        unit: in which amounts are told.
    """
    found = []
    for wish in wishes:
        names = overruled(own, decided, wish.at)
        if names and any(own.piece(p).edge(e).allowance != wish.amount for p, e in _allowable(own, wish.at)):
            by = " and ".join(f'"{name}"' for name in names)
            found.append(Finding("allowance-without-effect", f'The allowance of {show_length(wish.amount, unit)} for '
                                 f'"{wish.at}" changes nothing: how far the cloth goes on there is said by {by}. '
                                 f"Leave it out, or change {by}.", asked=wish.amount))
    return tuple(found)
