"""Where a pattern aims, held against where she is: the pattern's place, hers, and what lies between.

Everything is told from flat lengths and tape measures, so a pattern that is known by a tape alone is told as well. A
measure that was not taken may be estimated here, because cloth for a toile only is cut by it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, sqrt

from toilewright.body.estimates import estimate
from toilewright.body.tape import Body
from toilewright.fit.flat import Flat
from toilewright.fit.toile.observations import Observation
from toilewright.known import Known, Origin
from toilewright.tolerance import WORTH_DOING
from toilewright.units import show_length


@dataclass(frozen=True, slots=True)
class Aim:
    """One thing that a toile of this pattern will show on her.

    Attributes:
        place: e.g. ``dart height``, ``shoulder point``, ``back waist line``.
        by: how far the pattern is off (mm): lower, farther out, longer or wider than she is positive.
        pattern, hers: what is held against each other (mm).
        sentence: what it means on her.
        sign: the sign that the toile will show (a name of ``signs.toml``); "" where it sits, as far as can be told.
        seen: what she would measure on the toile (mm).
    """

    place: str
    by: Known
    pattern: Known
    hers: Known
    sentence: str
    sign: str = ""
    seen: float = 0.0

    @property
    def observation(self) -> Observation | None:
        """What she would see on the toile, or None where it sits."""
        return Observation(self.sign, self.seen) if self.sign else None


@dataclass(frozen=True)
class Held:
    """A pattern and a body held against each other."""

    flat: Flat
    body: Body

    def hers(self, measure: str) -> Known | None:
        """What was taken, else what is estimated of her; None where neither is known."""
        return self.body.get(measure) or estimate(self.body, measure)

    def show(self, mm: float) -> str:
        """A length in her unit."""
        return show_length(abs(mm), self.body.unit)


def dart_aims(held: Held) -> Iterator[Aim]:
    """The bust dart's aim against her bust point, down and across.

    Both are told from the neck point: the way down is what the straight line to the bust point leaves of its way
    across.
    """
    drawn, out = held.flat.get("neck point to bust point"), held.flat.get("bust point to centre")
    taken = held.hers("neck shoulder point to bust point")
    if drawn is None or out is None:
        return
    darts = held.flat.get("dart point to centre") is not None
    who, aims = ("The bust dart", "aims") if darts else ("The bust of the pattern", "lies")
    width, neck = held.hers("bust point width"), held.flat.get("neck width")
    half = width and Known(width.value / 2, width.origin, (width.spread or 0.0) / 2, width.reason)
    if taken is not None:
        beside = neck.value if neck else 0.0
        across = (half or out).value - beside
        low = _down(drawn.value, out.value - beside)
        hers = _down(taken.value, across)
        yield _aim(held, "dart height", _as(drawn, low), _as(taken, hers),
                   (f"{aims} {{}} below the bust point", f"{aims} {{}} above the bust point",
                    f"{aims} at the height of the bust point"),
                   ("dart ends below the bust point", "dart ends above the bust point") if darts else ("", ""), who)
    if half is not None:
        yield _aim(held, "dart across", out, half,
                   (f"{aims} {{}} too far out, towards the side", f"{aims} {{}} too far in, towards the centre",
                    f"{aims} as far from the centre as the bust point"), ("", ""), who)


def _down(way: float, across: float) -> float:
    return sqrt(max(way**2 - across**2, 0.0))


def _as(known: Known, value: float) -> Known:
    return Known(value, known.origin, known.spread, known.reason)


@dataclass(frozen=True)
class _Line:
    """A flat length that is held against one measure, with its words: longer, shorter, right; and the signs.

    `ease` is what the pattern should have beyond the body; without the length `only_with` there is nothing to hold.
    """

    place: str
    flat: str
    measure: str
    subject: str
    words: tuple[str, str, str]
    signs: tuple[str, str] = ("", "")
    times: float = 1.0
    ease: float = 0.0
    only_with: str = ""


_LENGTH_EASE = 5.0
"""mm by which a bodice usually is longer than the body, so that one can move (common practice, no published source)."""

_LINES = (
    _Line("shoulder point", "shoulder front", "shoulder length", "The armhole seam",
          ("falls {} beyond the shoulder point", "falls {} inside the shoulder point", "falls on the shoulder point"),
          ("armhole seam beyond the shoulder point", "armhole seam inside the shoulder point")),
    _Line("across back", "across back", "across back width", "Across the back the pattern",
          ("is {} wider than the body between the armholes", "is {} narrower than the body between the armholes",
           "is as wide as the body"), ("", "too tight across the back"), times=2.0),
    _Line("across chest", "across chest", "across front width", "Across the chest the pattern",
          ("is {} wider than the body between the armholes", "is {} narrower than the body between the armholes",
           "is as wide as the body"), times=2.0),
    _Line("underarm", "armhole depth", "armscye depth", "The underarm of the pattern",
          ("lies {} lower than usual under the arm", "lies {} higher than usual under the arm",
           "lies as far under the arm as usual"),
          ("", "armhole cuts in under the arm"), ease=16.0),
    _Line("centre back waist line", "centre back length", "back neck point to waist", "At the centre back the waist",
          ("falls {} below the waist", "falls {} above the waist", "falls at the waist"),
          ("back is too long", "back waist rides up"), ease=_LENGTH_EASE),
    _Line("back waist line", "back length", "neck shoulder point to waist back", "Behind, the waist line",
          ("falls {} below the waist", "falls {} above the waist", "falls at the waist"),
          ("waist seam below the waist", "waist seam above the waist"), ease=_LENGTH_EASE),
    _Line("front waist line", "front length", "neck shoulder point to waist", "In front, the waist line",
          ("falls {} below the waist", "falls {} above the waist", "falls at the waist"),
          ("", "waist seam rises in front"), ease=_LENGTH_EASE),
    _Line("hip line", "waist to hip", "waist to hip", "From the waist down, the hip line",
          ("falls {} below the fullest part of the hip", "falls {} above the fullest part of the hip",
           "falls at the fullest part of the hip")),
    _Line("sleeve length", "sleeve length", "arm length", "The sleeve",
          ("is {} longer than the arm", "is {} shorter than the arm", "is as long as the arm"),
          ("sleeve is too long", "sleeve is too short"), only_with="wrist"),
    _Line("crotch depth", "crotch depth", "crotch depth", "The crotch",
          ("hangs {} lower than usual", "is {} higher than usual", "is as deep as usual"),
          ("crotch hangs low", "crotch is too high"), ease=19.0),
)
"""What is held against what. The underarm is drafted 16 mm under the body's, as our own blocks do (our own choice); the
crotch 3/4 in below the chair (New Mexico State University, Cooperative Extension C-209)."""


def line_aims(held: Held) -> Iterator[Aim]:
    """Armhole seam, widths between the armholes, waist and hip lines, lengths."""
    for line in _LINES:
        drawn, taken = held.flat.get(line.flat), held.hers(line.measure)
        if drawn is None or taken is None or (line.only_with and held.flat.get(line.only_with) is None):
            continue
        pattern = Known(drawn.value * line.times, drawn.origin, (drawn.spread or 0.0) * line.times, drawn.reason)
        hers = Known(taken.value + line.ease, taken.origin, taken.spread, taken.reason)
        yield _aim(held, line.place, pattern, hers, line.words, line.signs, line.subject)


def _aim(held: Held, place: str, pattern: Known, hers: Known, words: tuple[str, str, str], signs: tuple[str, str],
         subject: str) -> Aim:
    off = pattern.value - hers.value
    spread = hypot(pattern.spread or 0.0, hers.spread or 0.0)
    sits = abs(off) < max(WORTH_DOING, spread)
    said = words[2] if sits else words[0 if off > 0 else 1].format(held.show(off))
    sentence = f"{subject} {said}, give or take {held.show(spread)}."
    if hers.origin is Origin.ESTIMATED:
        sentence += " Her measure is estimated; take it before you cut the cloth."
    by = Known(off, pattern.origin if hers.origin is not Origin.ESTIMATED else Origin.ESTIMATED, spread, sentence)
    return Aim(place, by, pattern, hers, sentence, "" if sits else signs[0 if off > 0 else 1], abs(off))
