"""The picture of a lay in a page: the cut end on the left, the fold or the near selvedge below."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from markupsafe import Markup

from toilewright.app.figures import drawing
from toilewright.cutting.lay.order import turns_of
from toilewright.cutting.lay.pieces import area_of
from toilewright.cutting.lay.plan import Laid, Lay, Layer, Section
from toilewright.geometry.point import Point
from toilewright.units import MM_PER_INCH

_WIDE = 1080.0
"""px; as wide as it is drawn where the page has room."""

_LEAST = 0.2
"""px for a millimetre; below that nothing could be read, so the page scrolls instead."""

_NUMBER, _NAME = 15.0, 12.0
"""px; letters of the cut's number and of the piece's name."""

_RULERS = {"cm": (100.0, 5, 10.0), "in": (5 * MM_PER_INCH, 4, MM_PER_INCH)}
"""By unit: mm between two ticks, how many of them to a number, and mm of one unit."""


def lay_picture(lay: Lay, title: str, unit: str) -> Markup:
    """A lay to scale, with the numbers of the order to cut and a ruler along the selvedge.

    Args:
        title: what it shows, for those who do not see it.
        unit: ``cm`` or ``in``, of the ruler.
    """
    long = max([lay.length, *(s.start + s.length for s in lay.sections)])
    tall = max([_height(lay, s) for s in lay.sections] or [lay.cloth.width])
    scale = max(_WIDE / max(long, 1.0), _LEAST)
    scale = min(scale, 420.0 / tall) if long * 420.0 / tall > 0.5 * _WIDE else scale
    inside = "".join(_section(lay, s) for s in lay.sections)
    if lay.cloth.outline:
        inside += _shape("remnant", lay.cloth.outline)
    inside += "".join(_shape("flaw", flaw) for flaw in lay.cloth.flaws)
    inside += _pieces(lay.laid, scale) + _ruler(long, scale, unit)
    below = 34.0 / scale
    air = 6.0 / scale
    return drawing(inside, (-air, -below, long + 3 * air, tall + air), scale, title, "figure lay-picture")


def _height(lay: Lay, section: Section) -> float:
    return lay.cloth.width - (section.fold_depth or 0.0)


def _section(lay: Lay, section: Section) -> str:
    """The cloth of a section: its folded part darker, the fold drawn."""
    x0, x1, tall = section.start, section.start + section.length, _height(lay, section)
    whole = _shape("ground", (complex(x0, 0), complex(x1, 0), complex(x1, tall), complex(x0, tall)))
    if section.fold_depth is None:
        return whole
    deep = section.fold_depth
    double = _shape("double", (complex(x0, 0), complex(x1, 0), complex(x1, deep), complex(x0, deep)))
    return f'{whole}{double}<path class="fold" d="M{x0:.1f} 0H{x1:.1f}"/>'


def _pieces(laid: Sequence[Laid], scale: float) -> str:
    """Outlines first, numbers and names over them; the lower layer lies under the upper one."""
    shapes, words = "", ""
    done = set()
    for one, turn in zip(laid, turns_of(laid), strict=True):
        if turn in done:
            continue
        done.add(turn)
        shapes += _shape(f"cut {'single' if one.layer is Layer.SINGLE else 'twice'}", one.outline)
        words += _label(one, turn, scale)
    return shapes + words


def _label(one: Laid, turn: int, scale: float) -> str:
    """The number of the cut, and the piece's name where it has room."""
    at = _middle(one.outline)
    wide, tall = (max(v) - min(v) for v in ([p.real for p in one.outline], [p.imag for p in one.outline]))
    name = one.piece.name
    room = wide * scale > 0.62 * _NAME * len(name) and tall * scale > 2.6 * _NAME
    text = (f'<text class="turn" x="{at.real:.1f}" y="{-at.imag + (0 if room else 5) / scale:.1f}" '
            f'font-size="{_NUMBER / scale:.1f}" text-anchor="middle">{turn}</text>')
    if room:
        text += (f'<text class="name" x="{at.real:.1f}" y="{-at.imag + _NUMBER / scale:.1f}" '
                 f'font-size="{_NAME / scale:.1f}" text-anchor="middle">{escape(name)}</text>')
    return text


def _middle(outline: Sequence[Point]) -> Point:
    """The centre of an outline's area."""
    area = area_of(outline)
    if not area:
        return outline[0]
    found = 0j
    for p, q in zip(outline, (*outline[1:], outline[0]), strict=True):
        found += (p + q) * (p.real * q.imag - q.real * p.imag)
    return found / (6.0 * area)


def _ruler(long: float, scale: float, unit: str) -> str:
    step, numbered, one = _RULERS[unit]
    found, words = [], ""
    for n in range(int(long / step) + 1):
        at, main = n * step, n % numbered == 0
        found.append(f"M{at:.1f} {6 / scale:.1f}v{(10 if main else 5) / scale:.1f}")
        if main:
            words += (f'<text class="tick" x="{at:.1f}" y="{30 / scale:.1f}" font-size="{_NAME / scale:.1f}" '
                      f'text-anchor="{"middle" if n else "start"}">{at / one:.0f}{"" if n else " " + unit}</text>')
    return f'<path class="ruler" d="M0 {6 / scale:.1f}H{long:.1f}{"".join(found)}"/>{words}'


def _shape(name: str, outline: Sequence[Point]) -> str:
    points = " ".join(f"{p.real:.1f},{-p.imag:.1f}" for p in outline)
    return f'<polygon class="{name}" points="{points}"/>'
