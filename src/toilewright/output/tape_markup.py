"""Pictures of the tape as markup for a page: classes and no colours, so that the page's own style paints them."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.output.body_views import body_views
from toilewright.output.path_data import path_data
from toilewright.output.tape_pictures import TapePicture


def body_markup() -> str:
    """The body in all views, unseen; the pictures on the same page draw it from here."""
    groups = "".join(f'<g id="body-{name}">{_marks(view.figure)}</g>' for name, view in body_views().items())
    return f'<svg class="tape-bodies" width="0" height="0" aria-hidden="true"><defs>{groups}</defs></svg>'


def picture_markup(picture: TapePicture, title: str, say: Callable[[str], str] = str) -> str:
    """One picture, for a page that holds :func:`body_markup` too.

    Args:
        title: what it shows, for those who do not see it.
        say: the word on the page for the name of a place.
    """
    x0, y0, x1, y1 = picture.window
    words = "".join(_caption(c, say) for c in picture.over.captions)
    return (f'<svg class="tape-picture" viewBox="{x0:g} {-y1:g} {x1 - x0:g} {y1 - y0:g}" role="img" '
            f'aria-label="{escape(title)}"><use href="#body-{picture.view}"/>{_marks(picture.over)}{words}</svg>')


def _marks(figure: Figure) -> str:
    return "".join(map(_mark, figure.marks))


def _mark(mark: Mark) -> str:
    line = f'd="{path_data(mark.path)}"'
    name = mark.pen.value.replace(" ", "-")
    if mark.pen is Pen.TAPE:
        return "".join(f'<path class="pen-{part}" {line}/>' for part in ("tape-edge", "tape", "tape-marks"))
    return f'<path class="pen-{name}" {line}/>'


def _caption(caption: Caption, say: Callable[[str], str]) -> str:
    x, y = caption.at.real, -caption.at.imag
    return (f'<text class="pen-words" x="{x:g}" y="{y:g}" font-size="{caption.height / 0.72:.3g}" '
            f'text-anchor="{caption.anchor}">{escape(say(caption.text))}</text>')
