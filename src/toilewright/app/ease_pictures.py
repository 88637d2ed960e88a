"""Lengths as drawings: the body, the tape round it, and round that the cloth; the gap between is the ease.

All lengths across are told in percent, so that a drawing fills whatever width it is given while its letters keep their
size; all looks are classes of ``static/css/lengths.css``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from math import ceil, floor

from toilewright.units import MM_PER_INCH

NARROWEST, WIDEST = -100.0, 190.0
"""mm of ease; a size beyond this lies off the drawing, its cloth runs out of it (hardly the size for this body)."""

MARGIN = 22.0
"""mm of tape left free at either end of a drawing, for the letters there."""

HEIGHT = 118
"""px; sizes' names, cloth, tape, body, one under the other."""


@dataclass(frozen=True, slots=True)
class Window:
    """The stretch of tape that a drawing shows, in mm from the end of the body."""

    low: float
    high: float

    def at(self, mm: float) -> float:
        """Where a length from the end of the body comes to lie, in percent from the left; never off the drawing."""
        return round(100 * (min(max(mm, self.low), self.high) - self.low) / (self.high - self.low), 2)

    def share(self, mm: float) -> float:
        """A length as percent of the drawing."""
        return round(100 * mm / (self.high - self.low), 2)

    def holds(self, mm: float) -> bool:
        """Does it lie on the drawing?"""
        return self.low <= mm <= self.high


@dataclass(frozen=True, slots=True)
class Zone:
    """What is asked at a place: from the least on; usual between these, the upper end None when open (mm)."""

    least: float
    usual: tuple[float, float | None]


def window_of(eases: Iterable[float]) -> Window:
    """One window for all places of a garment, so that gaps can be compared by eye.

    Args:
        eases: whatever should be seen (mm).
    """
    seen = [min(max(e, NARROWEST), WIDEST) for e in eases]
    return Window(min([*seen, -40.0]) - MARGIN, max([*seen, 110.0]) + MARGIN)


def strip_picture(window: Window, body: float, nest: Mapping[str, float], chosen: str, ease: float, spread: float,
                  zone: Zone | None, wanted: float | None, unit: str, words: Mapping[str, str]) -> str:
    """One place as a strip of markup: the cloth of the chosen size over the tape over the body.

    Args:
        body: girth of the body there (mm).
        nest: ease in each size (mm).
        chosen: the size that is cut there; ease: what it gives (mm), give or take `spread`.
        wanted: the ease she asked for (mm).
        words: ``label`` for those who do not see it, ``body`` on the body.
    """
    foot, end = window.at(0.0), window.at(ease)
    parts = [
        *_sizes(window, nest, chosen),
        f'<rect class="cloth" x="0" y="24" width="{end}%" height="22"/>',
        '<rect class="tape" x="0" y="50" width="100%" height="26"/>',
        *(_zone(window, zone) if zone else ()),
        *_marks(window, body, unit),
        f'<rect class="body" x="0" y="80" width="{foot}%" height="24"/>',
        _gap(foot, end),
        f'<text class="at-body" x="8" y="97">{escape(words["body"])}</text>',
        _hem(window, end, spread),
    ]
    if wanted is not None:
        parts.append(f'<svg class="wanted" x="{window.at(wanted)}%" overflow="visible">'
                     '<path d="M0 20V104"/><path class="flag" d="M0 104l-7 12h14z"/></svg>')
    return (f'<svg class="strip-picture" width="100%" height="{HEIGHT}" role="img" '
            f'aria-label="{escape(words["label"])}">{"".join(parts)}</svg>')


def moved(window: Window, ease: float) -> dict[str, float]:
    """Where the movable lines of a strip lie for another ease: the cloth's end, the gap from the left, its width."""
    foot, end = window.at(0.0), window.at(ease)
    return {"end": end, "from": min(foot, end), "gap": round(abs(end - foot), 2)}


def _sizes(window: Window, nest: Mapping[str, float], chosen: str) -> Iterator[str]:
    """The nest: a line and a name for each size."""
    last = -100.0
    for size, ease in sorted(nest.items(), key=lambda item: item[1]):
        if not window.holds(ease):
            continue
        at = window.at(ease)
        mark = " chosen" if size == chosen else ""
        close = " close" if at - last < 5 and not mark else ""
        yield (f'<svg class="size{mark}{close}" data-size="{escape(size)}" x="{at}%" overflow="visible">'
               f'<path d="M0 18V50"/><text y="13">{escape(size)}</text></svg>')
        last = at


def _zone(window: Window, zone: Zone) -> Iterator[str]:
    low, high = zone.usual
    far = window.high if high is None else high
    least, usual, top = window.at(zone.least), window.at(low), window.at(far)
    if usual > least:
        yield f'<rect class="least" x="{least}%" y="50" width="{round(usual - least, 2)}%" height="26"/>'
    open_end = " open" if high is None else ""
    yield f'<rect class="usual{open_end}" x="{usual}%" y="50" width="{round(top - usual, 2)}%" height="26"/>'
    yield f'<svg class="from" x="{least}%" overflow="visible"><path d="M0 48V80"/></svg>'


def _marks(window: Window, body: float, unit: str) -> Iterator[str]:
    """The tape's own marks, numbered as the tape reads there."""
    small, each = (10.0, 5) if unit == "cm" else (MM_PER_INCH / 2, 4)
    numbered = 10.0 if unit == "cm" else MM_PER_INCH
    for k in range(ceil((body + window.low) / small), floor((body + window.high) / small) + 1):
        at = window.at(k * small - body)
        long = k % each == 0
        yield f'<line class="mark" x1="{at}%" x2="{at}%" y1="{64 if long else 69}" y2="76"/>'
        if long and 3 < at < 97:
            yield f'<text class="number" x="{at}%" y="62">{k * small / numbered:g}</text>'


def _gap(foot: float, end: float) -> str:
    """The ease itself: air between body and cloth, or what is lacking."""
    return (f'<rect class="gap" x="{min(foot, end)}%" y="80" width="{round(abs(end - foot), 2)}%" height="24"/>')


def _hem(window: Window, end: float, spread: float) -> str:
    """The cloth's end, soft as far as it is not sure."""
    soft = window.share(spread)
    return (f'<svg class="hem" x="{end}%" width="100%" overflow="visible">'
            f'<rect class="soft" x="-{soft}%" y="24" width="{2 * soft}%" height="22"/>'
            f'<rect class="soft" x="-{soft}%" y="80" width="{2 * soft}%" height="24"/>'
            '<path d="M0 20V106"/></svg>')


# -- two sides of a seam --------------------------------------------------------------------------------


def seam_picture(a: float, b: float, flat: float, marks: Sequence[tuple[float, float, bool]], label: str) -> str:
    """Both sides of a seam as two bars along each other, with the balance marks that meet.

    Args:
        a, b: their lengths (mm).
        flat: how long side b is once its gathers are drawn up, or as it is when there are none (mm).
        marks: (mm on a, mm on b, do they meet?).
    """
    long = max(a, flat) or 1.0
    drawn = b - flat if b - flat > 1.0 else 0.0
    grown = flat / b if drawn and b else 1.0
    wide = {"a": round(100 * a / long, 2), "b": round(100 * flat / long, 2)}
    parts = [f'<rect class="side-a" x="0" y="8" width="{wide["a"]}%" height="18"/>',
             f'<rect class="side-b{" gathered" if drawn else ""}" x="0" y="30" width="{wide["b"]}%" height="18"/>']
    for on_a, on_b, meets in marks:
        top, foot = 100 * on_a / long, 100 * on_b * grown / long
        parts.append(f'<svg class="notch{"" if meets else " off"}" x="{top:.2f}%" overflow="visible">'
                     '<path d="M-6 26h12l-6-10z"/></svg>'
                     f'<svg class="notch{"" if meets else " off"}" x="{foot:.2f}%" overflow="visible">'
                     '<path d="M-6 30h12l-6 10z"/></svg>')
    return (f'<svg class="seam-picture" width="100%" height="56" role="img" aria-label="{escape(label)}">'
            f'{"".join(parts)}</svg>')


def lens_picture(difference: float, allowed: tuple[float, float], sews: bool, label: str) -> str:
    """The end of a seam under a lens: where side b ends when side a ends at the middle line, and where it may.

    Args:
        difference: how much farther side b goes (mm).
        allowed: least and most with which it is sewn, the slack of sewing included (mm).
    """
    reach = max(6.0, 1.25 * max(abs(difference), abs(allowed[0]), abs(allowed[1])))
    window = Window(-reach, reach)
    low, high, end = window.at(allowed[0]), window.at(allowed[1]), window.at(difference)
    return (f'<svg class="lens-picture" width="100%" height="56" role="img" aria-label="{escape(label)}">'
            f'<rect class="allowed" x="{low}%" y="6" width="{round(high - low, 2)}%" height="44"/>'
            '<rect class="side-a" x="0" y="8" width="50%" height="18"/>'
            f'<rect class="side-b{"" if sews else " off"}" x="0" y="30" width="{end}%" height="18"/>'
            '<svg class="zero" x="50%" overflow="visible"><path d="M0 2V54"/></svg></svg>')
