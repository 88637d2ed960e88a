"""Every flat length by its name, each read when it is first asked for.

Girths are whole; what is taken on a half piece (across the back, bust point to centre, neck) is that half. A garment
may have been read off its drawn pieces or off tissue with a tape: both give a :class:`Flat`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial
from typing import TypeVar

from toilewright.body.tape import Body
from toilewright.fit.flat import lower, round, upper
from toilewright.fit.flat.laid import Laid, Read
from toilewright.known import Known
from toilewright.pattern.garment import Garment

T = TypeVar("T")

_READERS: dict[str, Callable[[Laid], Read | None]] = {
    "bust": round.bust, "waist": round.waist, "high hip": round.high_hip, "hip": round.hip,
    "waist, wrap skirt": round.wrap_waist, "hip, wrap skirt": round.wrap_hip,
    "upper arm": round.upper_arm, "elbow": round.elbow, "wrist": round.wrist,
    "thigh": round.thigh, "knee": round.knee, "calf": round.calf,
    "centre back length": upper.centre_back_length, "back length": upper.back_length,
    "front length": upper.front_length, "centre front length": upper.centre_front_length,
    "neck point to bust point": upper.neck_to_bust, "bust point to centre": upper.bust_to_centre,
    "neck point to dart point": upper.neck_to_dart, "dart point to centre": upper.dart_to_centre,
    "shoulder front": partial(upper.shoulder, side="front"), "shoulder back": partial(upper.shoulder, side="back"),
    "shoulder slope front": partial(upper.slope, side="front"),
    "shoulder slope back": partial(upper.slope, side="back"),
    "across chest": partial(upper.across, side="front"), "across back": partial(upper.across, side="back"),
    "armhole front": partial(upper.armhole, side="front"), "armhole back": partial(upper.armhole, side="back"),
    "armhole depth": upper.armhole_depth,
    "neck front": partial(upper.neck, side="front"), "neck back": partial(upper.neck, side="back"),
    "neck width": upper.neck_width,
    "sleeve head": upper.sleeve_head, "sleeve length": upper.sleeve_length, "underarm length": upper.underarm_length,
    "elbow height": upper.elbow_height,
    "waist to hip": lower.waist_to_hip, "skirt length": lower.skirt_length,
    "crotch depth": lower.crotch_depth, "crotch length front": partial(lower.crotch_length, side="front"),
    "crotch length back": partial(lower.crotch_length, side="back"), "crotch length": lower.whole_crotch,
    "inside leg": lower.inside_leg,
    "outside leg": lower.outside_leg, "hem width": round.hem_width,
    "overlap at waist": partial(lower.overlap, where="waist"), "overlap at hip": partial(lower.overlap, where="hip"),
    "overlap at knee": partial(lower.overlap, where="knee"),
}

NAMES = tuple(_READERS)
"""The flat lengths that can be read, in the order of a fitting."""


@dataclass(frozen=True, slots=True)
class Flat:
    """The flat lengths of a pattern at the seam line.

    Attributes:
        lengths: by name (one of :data:`NAMES`), mm; slopes in degrees. What the pieces do not show is not there.
        pieces: by name, the pieces that a length was read off; empty where nobody knows.
    """

    lengths: Mapping[str, Known]
    pieces: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def get(self, name: str) -> Known | None:
        """One length, or None when the pieces do not show it."""
        return self.lengths.get(name)


def flat_of(garment: Garment, body: Body | None = None) -> Flat:
    """The flat lengths of drawn pieces, whatever their hand, place and turn.

    Args:
        body: whose tape sheet may say where the hip is on pieces without a hip line.

    >>> from toilewright.blocks.concert import concert_dress
    >>> flat = flat_of(concert_dress().at("4"))
    >>> round(flat.lengths["waist"].value), round(flat.lengths["centre back length"].value)
    (767, 412)
    """
    depth = body.get("waist to hip") if body else None
    return flat_at(garment, depth and depth.value)


def flat_at(garment: Garment, depth: float | None) -> Flat:
    """The same with the depth of the hip below the waist as a number (mm), None when nobody says."""
    read = lru_cache(maxsize=None)(partial(_read, Laid(garment, depth)))
    return Flat(_Part(read, lambda found: found.value), _Part(read, lambda found: found.pieces))


def _read(laid: Laid, name: str) -> Read | None:
    reader = _READERS.get(name)
    found = reader(laid) if reader else None
    if found is None or laid.garment.taken is None:
        return found
    # What nobody measured on the tissue is the block's own, and says nothing about this pattern.
    told = next(((more, error) for taken, more, error in laid.garment.taken if taken == name), None)
    if told is None:
        return None
    return replace(found, value=replace(found.value, value=found.value.value + told[0], spread=told[1]))


class _Part(Mapping[str, T]):
    """The values, or the names of the pieces, of everything that can be read."""

    def __init__(self, read: Callable[[str], Read | None], part: Callable[[Read], T]) -> None:
        self._read = read
        self._part = part

    def __getitem__(self, name: str) -> T:
        found = self._read(name)
        if found is None:
            raise KeyError(name)
        return self._part(found)

    def __iter__(self) -> Iterator[str]:
        return (name for name in NAMES if self._read(name) is not None)

    def __len__(self) -> int:
        return sum(1 for _ in self)
