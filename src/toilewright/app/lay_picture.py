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
from toilewright.output.lay_edges import flaw_shapes
from toilewright.output.lay_looks import Look
from toilewright.units import MM_PER_INCH

_WIDE = 1080.0
"""px; as wide as it is drawn where the page has room."""

_LEAST = 0.2
"""px for a millimetre; below that nothing could be read, so the page scrolls instead."""

_NUMBER, _NAME = 15.0, 12.0
"""px; letters of the cut's number and of the piece's name."""

_ARROW = (26.0, 130.0)
"""px; least room for a grain arrow, and how long it is drawn at most."""

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
    inside += "".join(_shape("flaw" if one.look is Look.FLAW else "off", one.path.flatten())
                      for one in flaw_shapes(lay))
    inside += _pieces(lay, scale) + _ruler(long, scale, unit)
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


def _pieces(lay: Lay, scale: float) -> str:
    """Outlines first, numbers and names over them; the lower layer lies under the upper one."""
    shapes, words = "", ""
    done = set()
    for one, turn in zip(lay.laid, turns_of(lay.laid), strict=True):
        if turn in done:
            continue
        done.add(turn)
        shapes += _shape(f"cut {'single' if one.layer is Layer.SINGLE else 'twice'}", one.outline)
        shapes += _grain(one, scale, both=not lay.cloth.one_way)
        words += _label(one, turn, scale)
    return shapes + words


def _grain(one: Laid, scale: float, both: bool) -> str:
    """The grain arrow, beside the number where it has room; with both heads where the cloth has no direction."""
    if not one.piece.grain:
        return ""
    way = one.pose.of(1 + 0j)
    middle = _middle(one.outline)
    for aside in (1.4 * _NUMBER, -2.2 * _NUMBER, 0.0):
        low, high = _inside(one.outline, middle + aside / scale * 1j, way)
        if (high - low) * scale > _ARROW[0]:
            break
    else:
        return ""
    half = min(0.35 * (high - low), _ARROW[1] / 2 / scale)
    centre = middle + aside / scale * 1j + way * (low + high) / 2
    heads = "".join(_head(centre + turn * half * way, turn * way, scale) for turn in ((1, -1) if both else (1,)))
    foot, tip = centre - half * way, centre + half * way
    return f'<path class="grain" d="M{_at(foot)}L{_at(tip)}{heads}"/>'


def _head(tip: Point, way: Point, scale: float) -> str:
    sides = [tip - way * (7 + turn * 4j) / scale for turn in (1, -1)]
    return f"M{_at(sides[0])}L{_at(tip)}L{_at(sides[1])}"


def _at(p: Point) -> str:
    return f"{p.real:.1f} {-p.imag:.1f}"


def _inside(outline: Sequence[Point], at: Point, way: Point) -> tuple[float, float]:
    """From where to where a line through a point lies in an outline around that point (mm from it); 0, 0 outside."""
    below, above = [], []
    for p, q in zip(outline, (*outline[1:], outline[0]), strict=True):
        a, b = ((one - at) * way.conjugate() for one in (p, q))
        if (a.imag > 0.0) != (b.imag > 0.0):
            cut = a.real - a.imag * (b.real - a.real) / (b.imag - a.imag)
            (above if cut > 0.0 else below).append(cut)
    return (max(below), min(above)) if len(above) % 2 and len(below) % 2 else (0.0, 0.0)


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
