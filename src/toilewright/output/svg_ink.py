"""Drawing figures as SVG: true millimetres, named groups, curves kept."""

from __future__ import annotations

from math import degrees

from lxml import etree

from toilewright.draw.figure import Caption, Figure, Mark, Pen
from toilewright.output.path_data import number, path_data
from toilewright.output.pens import INK, PENS

_SVG = "http://www.w3.org/2000/svg"


def svg_root(box: tuple[float, float, float, float], title: str, true_scale: bool = True) -> etree._Element:
    """An SVG whose user unit is 1 mm, over a box given with y up (mm).

    Args:
        true_scale: give width and height in mm, so that it prints at size.
    """
    x0, y0, x1, y1 = box
    root = etree.Element(f"{{{_SVG}}}svg", nsmap={None: _SVG},
                         viewBox=f"{number(x0)} {number(-y1)} {number(x1 - x0)} {number(y1 - y0)}")
    if true_scale:
        root.set("width", f"{number(x1 - x0)}mm")
        root.set("height", f"{number(y1 - y0)}mm")
    etree.SubElement(root, f"{{{_SVG}}}title").text = title
    return root


def add_ground(root: etree._Element) -> None:
    """White paper under the whole picture, for viewers with a dark ground."""
    x, y, width, height = root.get("viewBox").split()
    etree.SubElement(root, f"{{{_SVG}}}rect", x=x, y=y, width=width, height=height, fill="#ffffff")


def add_group(parent: etree._Element, name: str) -> etree._Element:
    """A group with an id made from its name and the name itself as a label for people and screen readers."""
    group = etree.SubElement(parent, f"{{{_SVG}}}g", id=name.replace(" ", "-"))
    etree.SubElement(group, f"{{{_SVG}}}title").text = name
    return group


def add_figure(parent: etree._Element, figure: Figure, weight: float = 1.0) -> None:
    """Marks and captions of a figure, tints first; `weight` thickens the pens."""
    for mark in sorted(figure.marks, key=lambda m: m.pen is not Pen.FILL):
        _mark(parent, mark, weight)
    for caption in figure.captions:
        _caption(parent, caption)


def svg_bytes(root: etree._Element) -> bytes:
    """The finished file."""
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", pretty_print=True)


def _mark(parent: etree._Element, mark: Mark, weight: float) -> None:
    pen = PENS[mark.pen]
    item = etree.SubElement(parent, f"{{{_SVG}}}path", d=path_data(mark.path), fill=pen.fill or "none",
                            stroke=pen.colour)
    item.set("stroke-width", number(pen.width * weight))
    item.set("stroke-linejoin", "round")
    if pen.dash:
        item.set("stroke-dasharray", " ".join(number(d * weight) for d in pen.dash))
    item.set("class", mark.pen.value.replace(" ", "-"))


def _caption(parent: etree._Element, caption: Caption) -> None:
    at = f"{number(caption.at.real)} {number(-caption.at.imag)}"
    item = etree.SubElement(parent, f"{{{_SVG}}}text", fill=INK)
    item.set("font-family", "sans-serif")
    item.set("font-size", number(caption.height / 0.72))
    item.set("text-anchor", caption.anchor)
    turned = f" rotate({number(-degrees(caption.angle))})" if caption.angle else ""
    item.set("transform", f"translate({at}){turned}")
    item.text = caption.text
