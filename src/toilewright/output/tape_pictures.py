"""Where the tape goes: a picture for every measure, and one for each of the three waists."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path as File
from typing import Any

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.geometry.path import Path
from toilewright.geometry.point import Point, unit
from toilewright.output.body_views import BodyView, body_views, line_through, point_of

_ROUND = 0.5523
"""Length of a handle over the radius, for a quarter of an ellipse."""

_LETTER = 0.036
"""Letter height over the width of the picture."""


@dataclass(frozen=True)
class TapePicture:
    """One picture.

    Attributes:
        measure: name of the measure, or of the place of the waist.
        view: key of :func:`~toilewright.output.body_views.body_views`.
        window: what is seen of that view, (x min, y min, x max, y max) in mm.
        tape: the tape, over the body.
        over: the tape with everything else that is drawn over the body.
    """

    measure: str
    view: str
    window: tuple[float, float, float, float]
    tape: Path
    over: Figure

    @property
    def figure(self) -> Figure:
        """Body and tape; what lies outside the window has to be cut off."""
        return body_views()[self.view].figure.plus(self.over)


@lru_cache(maxsize=1)
def tape_pictures() -> Mapping[str, TapePicture]:
    """The picture of every measure, by its name."""
    return {row["measure"]: _picture(row) for row in _rows()["picture"]}


@lru_cache(maxsize=1)
def waist_pictures() -> Mapping[str, TapePicture]:
    """The picture of each place of the waist, by its name."""
    return {row["measure"]: _picture(row) for row in _rows()["waist"]}


def _rows() -> dict[str, list[dict[str, Any]]]:
    return tomllib.loads(File(__file__).with_name("tape_pictures.toml").read_text(encoding="utf-8"))


def _picture(row: Mapping[str, Any]) -> TapePicture:
    view = body_views()[row["view"]]
    low, high = map(point_of, row["window"].split())
    size = (high - low).real
    marks = [Mark(line_through(words), Pen.GUIDE) for words in row.get("hints", ())]
    marks += [Mark(line_through(words), Pen.MARK) for words in row.get("seams", ())]
    captions = []
    for name, height in row.get("levels", {}).items():
        front, behind = _round(view, complex(0, height), 0.0, 14.0, 10.0)
        marks += [Mark(behind, Pen.GUIDE), Mark(front, Pen.MARK)]
        captions.append(_beside(name, front.start if name.startswith("<") else front.end, size, -0.01))
    if "girth" in row:
        said = row["girth"]
        tape, behind = _round(view, point_of(said["at"]), said.get("tilt", 0.0), said["dip"], said["behind"])
        marks += [Mark(behind, Pen.TAPE_BEHIND), Mark(tape, Pen.TAPE)]
    else:
        tape = _line(view, row)
        marks.append(Mark(tape, Pen.TAPE))
    named = {name: view.places[name.lstrip("<_")] for name in row.get("names", ())}
    if "girth" not in row:
        marks += _ends(tape, named.values(), size * 0.022)
    for name, at in named.items():
        marks += _cross(at, size * 0.02)
        captions.append(_beside(name, at, size, 0.022))
    return TapePicture(row["measure"], view.name, (low.real, low.imag, high.real, high.imag), tape,
                       Figure(tuple(marks), tuple(captions)))


def _round(view: BodyView, at: Point, tilt: float, dip: float, behind: float) -> tuple[Path, Path]:
    """The two halves of a tape round the body, before and behind it."""
    left, right = view.across(at, tilt)
    return _half(left, right, -dip), _half(left, right, behind)


def _half(left: Point, right: Point, rise: float) -> Path:
    """Half an ellipse over the line from left to right."""
    across, up = (right - left) / 2, unit(right - left) * 1j * rise
    top = (left + right) / 2 + up
    return Path((left, top, right), ((left + up * _ROUND, top - across * _ROUND),
                                     (top + across * _ROUND, right + up * _ROUND)))


def _line(view: BodyView, row: Mapping[str, Any]) -> Path:
    """The tape over the body's surface."""
    parts = [view.along(*row["along"])] if "along" in row else []
    if "tape" in row:
        points = [view.places.get(word, word) for word in row["tape"]]
        words = " ".join(p if isinstance(p, str) else f"{p.real},{p.imag}" for p in points)
        line = line_through(words)
        parts.append(line.with_ends(parts[0].end) if parts else line)
    return Path.joined(parts)


def _ends(tape: Path, named: Collection[Point], bar: float) -> list[Mark]:
    """A short bar across each end that is no place with a cross of its own."""
    return [Mark(Path.line(at - along * 1j * bar, at + along * 1j * bar), Pen.MARK)
            for at, along in ((tape.start, tape.start_tangent), (tape.end, tape.end_tangent)) if at not in named]


def _cross(at: Point, arm: float) -> list[Mark]:
    return [Mark(Path.line(at - arm * way, at + arm * way), Pen.MARK) for way in (unit(1 + 1j), unit(1 - 1j))]


def _beside(name: str, at: Point, size: float, rise: float) -> Caption:
    """A name to the right of a place (to the left: "<", below: "_"); `rise` as a share of the picture's width."""
    away = complex(size * 0.03, size * rise)
    if name.startswith("<"):
        return Caption(name[1:], at - away.conjugate(), size * _LETTER, anchor="end")
    if name.startswith("_"):
        return Caption(name[1:], at - 0.07j * size, size * _LETTER, anchor="middle")
    return Caption(name, at + away, size * _LETTER)
