"""What can go wrong, as one family, and what deserves a second look.

    ToilewrightError
    +-- InputError          a file or an entry that cannot be used as it is
    |   +-- FileError       the file is missing, locked, of another kind, or damaged
    |   +-- UnitError       an amount that cannot be read, or cannot be true
    |   +-- NameUnknown     a name that nothing here carries (the nearest is offered)
    +-- GeometryError       a shape that cannot be made
    +-- AlterationError     an alteration that this pattern cannot take
    +-- SewError            a pattern that would not sew together

An exception means: not done. A :class:`Finding` means: done, or readable, but look here.
Messages are one sentence in three parts: what was asked, what stops it, what would work.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class ToilewrightError(Exception):
    """Base of all errors whose message is meant for the dressmaker."""


class InputError(ToilewrightError):
    """A file or an entry that cannot be used as it is."""


class FileError(InputError):
    """The file is missing, locked, of another kind, or damaged."""


class UnitError(InputError):
    """An amount that cannot be read, or cannot be true."""


class NameUnknown(InputError):
    """A name that nothing here carries."""

    @classmethod
    def among(cls, what: str, name: str, known: Iterable[str], where: str = "",
              listed: Iterable[str] = ()) -> NameUnknown:
        """Build the error for `name`, offering the nearest of `known`.

        Args:
            listed: the names to list when none is near, where `known` holds aliases too.

        >>> str(NameUnknown.among("alteration", "high rond back", ["high round back", "sway back"]))
        'There is no alteration called "high rond back"; did you mean "high round back"?'
        """
        names = list(known)
        place = f" in {where}" if where else ""
        near = difflib.get_close_matches(name.lower(), [n.lower() for n in names], n=1, cutoff=0.55)
        if near:
            best = next(n for n in names if n.lower() == near[0])
            return cls(f'There is no {what} called "{name}"{place}; did you mean "{best}"?')
        names = list(listed) or names
        said = ", ".join(f'"{n}"' for n in names[:12]) or "none"
        more = f" and {len(names) - 12} more" if len(names) > 12 else ""
        return cls(f'There is no {what} called "{name}"{place}; known here: {said}{more}.')


class GeometryError(ToilewrightError):
    """A shape that cannot be made."""


class AlterationError(ToilewrightError):
    """An alteration that this pattern cannot take, or not by that much.

    Attributes:
        amount, most: where it is about an amount, what was asked and the most that fits (mm), else None.
        piece, why: where, and the reason, in words.
    """

    amount: float | None = None
    most: float | None = None
    piece: str = ""
    why: str = ""


class SewError(ToilewrightError):
    """A pattern that would not sew together."""


class Severity(StrEnum):
    """How much a finding matters."""

    NOTE = "note"
    LOOK = "look"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that was done or read, but deserves a look.

    Attributes:
        code: stable short name, e.g. ``dart-one-leg``.
        text: one sentence: what, where, and what to do.
        severity: note, look, or stop (nothing may be printed before it is settled).
        piece, edge, size: where, when known.
        asked, possible: amounts in mm, when the finding is about an amount.
    """

    code: str
    text: str
    severity: Severity = Severity.LOOK
    piece: str | None = None
    edge: str | None = None
    size: str | None = None
    asked: float | None = None
    possible: float | None = None

    def as_dict(self) -> dict[str, object]:
        """The finding as plain values, unknown ones left out."""
        pairs = ((k, getattr(self, k)) for k in self.__slots__)
        return {k: (str(v) if isinstance(v, Severity) else v) for k, v in pairs if v is not None}
