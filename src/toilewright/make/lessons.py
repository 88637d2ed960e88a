"""What the toiles of one make ended in, for each alteration that any toile of the body asked for."""

from __future__ import annotations

from collections.abc import Collection
from math import hypot

from toilewright.errors import NameUnknown
from toilewright.fit.alterations import find_alteration
from toilewright.fit.toile.causes import PINNED
from toilewright.fit.toile.learned import Lesson
from toilewright.make.outcome import Sized, altered_of

Key = tuple[str, tuple[tuple[str, str], ...]]
"""An alteration and its further words."""


def lessons_of(sized: Sized, make: str, date: str, known: Collection[Key] = ()) -> tuple[Lesson, ...]:
    """All that a make took of each alteration that its toiles asked for, what stands and what was worked out included.

    Args:
        make: its id or title.
        known: what toiles of other makes asked for; where this pattern has a place for it and its toiles did not ask,
            it is a lesson that nothing was needed.

    Raises:
        InputError, AlterationError: the make cannot be made up.
    """
    own = {key_of(w.name, w.options) for w in sized.make.alterations if w.came_from}
    done = altered_of(sized).done
    rows = []
    for name, options in dict.fromkeys((*sorted(own), *sorted(known))):
        amounts = [d.order.amount for d in done if key_of(d.order.name, d.order.options) == (name, options)]
        if not amounts and not (sized.make.toiles and _has_place(sized, name, options)):
            continue
        rows.append(Lesson(make, name, sum(a.value for a in amounts),
                           hypot(*(a.spread if a.spread is not None else 0.0 for a in amounts)) or PINNED,
                           dict(options), date))
    return tuple(rows)


def key_of(name: str, options: Collection[str] | dict[str, str]) -> Key:
    """What two alterations must have in common to be one lesson."""
    return name, tuple(sorted(dict(options).items()))


def _has_place(sized: Sized, name: str, options: tuple[tuple[str, str], ...]) -> bool:
    try:
        return find_alteration(name)[0].has_place(sized.before, dict(options))
    except NameUnknown:
        return False
