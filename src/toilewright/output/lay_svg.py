"""A lay as one SVG in true millimetres: x along the selvedge from the cut end, y across, upwards on the screen."""

from __future__ import annotations

import os
from collections.abc import Sequence
from math import degrees

from lxml import etree

from toilewright.draw.figure import Caption
from toilewright.files import replacing
from toilewright.geometry.point import Point
from toilewright.output.lay_looks import LOOKS, Look, Scene, Shape, Words
from toilewright.output.lay_scene import lay_scene
from toilewright.output.lay_sheet import (
    CARE,
    LaySheet,
    checked_words,
    end_of_lay,
    height_of,
    size_words,
    sure_words,
)
from toilewright.output.paper import wrap
from toilewright.output.path_data import number, path_data
from toilewright.output.places import Line
from toilewright.output.svg_ink import add_ground, add_group, svg_bytes, svg_root

_SVG = "http://www.w3.org/2000/svg"

_SHOWN = 270.0
"""mm; letters are sized for a picture that is so wide, as on a landscape sheet or a screen."""

_CAPITAL = 0.8
"""Height of capitals as a share of the type's size, and a little more: a reader's own letters may be wider than those
with which the words were measured."""

_LEADING = 1.8
"""Line spacing in letter heights."""

_APART = 10.0
"""mm on paper between the lays of two cloths."""

_STYLE = "svg { max-width: 100%; max-height: 100vh; height: auto; }"
"""A browser shows the whole lay; what measures it, or cuts by it, finds it in true mm."""


def write_lay_svg(sheets: Sequence[LaySheet], path: str | os.PathLike[str]) -> None:
    """Write the lays of all cloths below each other (SVG; one user unit is 1 mm of cloth).

    Args:
        sheets: one for each cloth.
        path: SVG to write; replaced in one step.
    """
    scale = max(max(end_of_lay(s.lay) for s in sheets) / _SHOWN, max(map(_tallest, sheets)) / _SHOWN, 1.0)
    scenes = [lay_scene(sheet, scale) for sheet in sheets]
    left, right = min(s.box[0] for s in scenes), max(s.box[2] for s in scenes)
    over = [_heading(sheet, (right - left) / scale) for sheet in sheets]
    under = [_key(sheet, (right - left) / scale) for sheet in sheets]
    tall = sum(s.box[3] - s.box[1] + (_height(o) + _height(u)) * scale
               for s, o, u in zip(scenes, over, under, strict=True)) + _APART * scale * (len(scenes) - 1)
    top = scenes[0].box[3] + _height(over[0]) * scale
    root = svg_root((left, top - tall, right, top), sheets[0].title)
    etree.SubElement(root, f"{{{_SVG}}}style").text = _STYLE
    add_ground(root)
    y = top
    for sheet, scene, above, below in zip(sheets, scenes, over, under, strict=True):
        down = scene.box[3] + _height(above) * scale - y
        group = add_group(root, f"cloth {sheet.lay.cloth.name}")
        if down:
            group.set("transform", f"translate(0 {number(down)})")
        _lines(group, above, complex(left, scene.box[3] + _height(above) * scale), scale)
        _scene(group, scene, sheet.lay.cloth.name)
        _lines(group, below, complex(left, scene.box[1]), scale)
        y -= scene.box[3] - scene.box[1] + (_height(above) + _height(below) + _APART) * scale
    with replacing(path) as name, open(name, "wb") as file:
        file.write(svg_bytes(root))


def _tallest(sheet: LaySheet) -> float:
    return max([height_of(sheet.lay, s) for s in sheet.lay.sections] or [sheet.lay.cloth.width])


def _heading(sheet: LaySheet, wide: float) -> list[Line]:
    """What stands over a lay, broken into lines (mm on paper)."""
    title = f'{sheet.title}: cloth "{sheet.lay.cloth.name}"'
    small = [*wrap(checked_words(sheet.lay), 1.6, 0.9 * wide), *wrap(sure_words(sheet.lay), 1.6, 0.9 * wide)]
    return [Line(title, 3.2, True), Line(size_words(sheet), 2.1), *(Line(text, 1.6) for text in small)]


def _key(sheet: LaySheet, wide: float) -> list[Line]:
    """Every number with its piece, below a lay."""
    said = "; ".join(f"{cut.turn} {cut.full_name} ({cut.how})" for cut in sheet.cuts)
    lines = [*wrap(f"In the order to cut: {said}.", 1.6, 0.9 * wide),
             *(line for note in sheet.lay.notes for line in wrap(note, 1.6, 0.9 * wide)), *wrap(CARE, 1.6, 0.9 * wide)]
    return [Line(text, 1.6) for text in lines]


def _height(lines: Sequence[Line]) -> float:
    """What lines take (mm on paper)."""
    return sum(line.height for line in lines) * _LEADING + 3.0


def _lines(group: etree._Element, lines: Sequence[Line], corner: Point, scale: float) -> None:
    """Lines below a corner."""
    y = corner.imag - 1.5 * scale
    for line in lines:
        y -= line.height * _LEADING * scale
        at = complex(corner.real + 2.0 * scale, y + 0.5 * line.height * scale)
        _text(group, Words(Caption(line.text, at, line.height * scale), "", line.bold))


def _scene(parent: etree._Element, scene: Scene, cloth: str) -> None:
    """Cloth first, then a group for each piece, then its words."""
    groups: dict[str, etree._Element] = {}
    for shape in scene.shapes:
        _shape(_group(parent, groups, shape.group if shape.look is not Look.PIECE else "pieces", cloth), shape,
               scene.scale)
    for words in scene.words:
        _text(_group(parent, groups, words.group, cloth), words)


def _group(parent: etree._Element, groups: dict[str, etree._Element], name: str, cloth: str) -> etree._Element:
    if name not in groups:
        groups[name] = add_group(parent, name)
        groups[name].set("id", f"{cloth}-{name}".replace(" ", "-"))
    return groups[name]


def _shape(parent: etree._Element, shape: Shape, scale: float) -> None:
    pen = LOOKS[shape.look]
    item = etree.SubElement(parent, f"{{{_SVG}}}path", d=path_data(shape.path), fill=pen.fill or "none",
                            stroke=pen.colour)
    item.set("class", shape.look.value.replace(" ", "-"))
    if pen.width:
        item.set("stroke-width", number(pen.width * scale, 2))
        item.set("stroke-linejoin", "round")
    if pen.dash:
        item.set("stroke-dasharray", " ".join(number(d * scale, 2) for d in pen.dash))


def _text(parent: etree._Element, words: Words) -> None:
    caption = words.caption
    item = etree.SubElement(parent, f"{{{_SVG}}}text", fill=words.colour)
    item.set("font-family", "Helvetica, Arial, sans-serif")
    item.set("font-size", number(caption.height / _CAPITAL, 2))
    item.set("text-anchor", caption.anchor)
    if words.bold:
        item.set("font-weight", "bold")
    turned = f" rotate({number(-degrees(caption.angle), 2)})" if caption.angle else ""
    item.set("transform", f"translate({number(caption.at.real, 2)} {number(-caption.at.imag, 2)}){turned}")
    item.text = caption.text
