"""Pens and paths of DXF entities as ours."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from ezdxf import colors

from toilewright.geometry.path import Path
from toilewright.intake.drawing import Look
from toilewright.intake.pencil import Pencil

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.path import Path as DxfPath


def our_paths(path: DxfPath) -> list[Path]:
    """The runs of an ezdxf path, seen from above, in drawing units."""
    pencil = Pencil()
    pencil.move(_flat(path.start))
    for command in path.commands():
        end = _flat(command.end)
        if command.type.name == "LINE_TO":
            pencil.draw(end)
        elif command.type.name == "CURVE3_TO":
            pencil.quadratic(_flat(command.ctrl), end)
        elif command.type.name == "CURVE4_TO":
            pencil.draw(end, (_flat(command.ctrl1), _flat(command.ctrl2)))
        else:
            pencil.move(end)
    pencil.lift()
    return pencil.paths


def _flat(v: Any) -> complex:
    return complex(v.x, v.y)


def pen_of(doc: Document, layer: str, colour: int, true_colour: int | None, linetype: str, scale: float,
           weight: int) -> Look:
    """How an entity is drawn, what it leaves to its layer filled in; dashes in drawing units."""
    above = doc.layers.get(layer) if layer in doc.layers else None
    if colour in (0, 256) and true_colour is None and above is not None:
        colour, true_colour = abs(above.dxf.get("color", 7)), above.dxf.get("true_color")
    if linetype.upper() in ("BYLAYER", "BYBLOCK"):
        linetype = above.dxf.get("linetype", "CONTINUOUS") if above is not None else "CONTINUOUS"
    if weight < 0:
        weight = above.dxf.get("lineweight", -1) if above is not None else -1
    return Look(layer, _ink(colour, true_colour), _dashes(doc, linetype, scale), weight / 100 if weight > 0 else 0.3)


def _ink(colour: int, true_colour: int | None) -> tuple[float, float, float]:
    """Red, green, blue; 7 is the colour that stands out, black on paper."""
    if true_colour is not None:
        rgb = colors.int2rgb(true_colour)
    elif not 0 < colour < 256 or colour == 7:
        return (0.0, 0.0, 0.0)
    else:
        rgb = colors.aci2rgb(colour)
    return (rgb[0] / 255, rgb[1] / 255, rgb[2] / 255)


def _dashes(doc: Document, linetype: str, scale: float) -> tuple[float, ...]:
    if linetype not in doc.linetypes:
        return ()
    pattern = doc.linetypes.get(linetype).simplified_line_pattern()
    factor = abs(scale * doc.header.get("$LTSCALE", 1.0)) or 1.0
    return tuple(abs(d) * factor for d in pattern)
