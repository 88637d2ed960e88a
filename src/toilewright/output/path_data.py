"""Lines as SVG path data: in mm, y turned down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from toilewright.geometry.path import Path
from toilewright.geometry.point import Point

_TO_FILES, _TO_SCREENS = 4, 2
"""decimals of a mm; a screen shows no more than hundredths, and what it loads is half as long."""


def path_data(path: Path) -> str:
    """One path, as files keep it."""
    words = [f"M{_pair(path.start, _TO_FILES)}", *_curves(path, _TO_FILES)]
    return " ".join([*words, "Z"] if path.closed else words)


def short_data(paths: Iterable[Path]) -> str:
    """Some paths as screens draw them, those that follow on from each other as one line."""
    words: list[str] = []
    at: Point | None = None
    for path in paths:
        if path.start != at:
            words.append(f"M{_pair(path.start, _TO_SCREENS)}")
        words += _curves(path, _TO_SCREENS)
        at = path.end
    return "".join(words)


def number(value: float, decimals: int = _TO_FILES) -> str:
    """A number without trailing noughts."""
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _curves(path: Path, decimals: int) -> Iterator[str]:
    for end, handles in zip(path.nodes[1:], path.handles, strict=True):
        yield ("L" if handles is None else "C") + " ".join(_pair(p, decimals) for p in (*(handles or ()), end))


def _pair(point: Point, decimals: int) -> str:
    return f"{number(point.real, decimals)} {number(-point.imag, decimals)}"
