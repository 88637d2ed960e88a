"""What SVG attributes and style sheets say: lengths, transforms, colours, pens, and whether a thing is drawn at all."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import cos, radians, sin, tan

from toilewright.geometry.affine import Affine
from toilewright.intake.svg_path import numbers

PX = 25.4 / 96
"""mm in one CSS pixel (CSS Values and Units, 96 to the inch)."""

_UNITS = {"mm": 1.0, "cm": 10.0, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "q": 0.25, "px": PX, "": PX}
_LENGTH = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([a-zA-Z%]*)\s*$")
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_SELECTOR = re.compile(r"(\*|[\w-]*)((?:[.#][\w-]+)*)$")
_CALL = re.compile(r"(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^)]*)\)")
_INHERITED = ("stroke", "fill", "stroke-width", "stroke-dasharray", "color", "visibility", "font-size", "text-anchor",
              "stroke-opacity", "fill-opacity", "marker-start", "marker-end")
_LOCAL = ("display", "opacity", "clip-path")
_COLOURS = {
    "black": 0x000000, "silver": 0xC0C0C0, "gray": 0x808080, "grey": 0x808080, "white": 0xFFFFFF, "maroon": 0x800000,
    "red": 0xFF0000, "purple": 0x800080, "fuchsia": 0xFF00FF, "magenta": 0xFF00FF, "green": 0x008000, "lime": 0x00FF00,
    "olive": 0x808000, "yellow": 0xFFFF00, "navy": 0x000080, "blue": 0x0000FF, "teal": 0x008080, "aqua": 0x00FFFF,
    "cyan": 0x00FFFF, "orange": 0xFFA500, "brown": 0xA52A2A, "pink": 0xFFC0CB,
}

Style = Mapping[str, str]
Colour = tuple[float, float, float]
START: Style = {"stroke": "none", "fill": "black", "stroke-width": "1", "font-size": "16"}


def length_mm(text: str | None) -> tuple[float, str] | None:
    """A length with its unit, as (mm, unit); None when it is missing, a share, or no length.

    >>> length_mm("2in")
    (50.8, 'in')
    """
    found = _LENGTH.match(text or "")
    if not found or found.group(2).lower() not in _UNITS:
        return None
    unit = found.group(2).lower()
    return float(found.group(1)) * _UNITS[unit], unit


def length_user(text: str | None, default: float = 0.0, em: float = 16.0) -> float:
    """A length inside the drawing, in user units (an inch is 96 of them)."""
    found = _LENGTH.match(text or "")
    if not found:
        return default
    value, unit = float(found.group(1)), found.group(2).lower()
    if unit == "em":
        return value * em
    return value * _UNITS[unit] / PX if unit in _UNITS else default


def transform(text: str | None) -> Affine:
    """The map that a ``transform`` attribute stands for; its last call acts first."""
    result = Affine()
    for name, inner in _CALL.findall(text or ""):
        result = _call(name, numbers(inner)).then(result)
    return result


def _call(name: str, v: list[float]) -> Affine:
    if name == "matrix" and len(v) == 6:
        return Affine.from_matrix(*v)
    if name == "translate" and v:
        return Affine.shift(complex(v[0], v[1] if len(v) > 1 else 0.0))
    if name == "scale" and v:
        return Affine.from_matrix(v[0], 0, 0, v[1] if len(v) > 1 else v[0], 0, 0)
    if name == "rotate" and v:
        a, about = radians(v[0]), complex(v[1], v[2]) if len(v) > 2 else 0j
        turn = Affine.from_matrix(cos(a), sin(a), -sin(a), cos(a), 0, 0)
        return Affine.shift(-about).then(turn).then(Affine.shift(about))
    if name == "skewX" and v:
        return Affine.from_matrix(1, 0, tan(radians(v[0])), 1, 0, 0)
    if name == "skewY" and v:
        return Affine.from_matrix(1, tan(radians(v[0])), 0, 1, 0, 0)
    return Affine()


def declarations(text: str | None) -> dict[str, str]:
    """The ``name: value`` pairs of a style attribute or a rule."""
    pairs = (part.split(":", 1) for part in (text or "").split(";") if ":" in part)
    return {name.strip().lower(): value.replace("!important", "").strip() for name, value in pairs}


class Sheet:
    """The simple rules of a file's style sheets: by element, class and id, alone or together."""

    def __init__(self) -> None:
        """Start without rules."""
        self._rules: list[tuple[tuple[int, int], str, frozenset[str], dict[str, str]]] = []

    def add(self, text: str) -> None:
        """Take in the text of one style element; rules with other selectors are left out."""
        text = re.sub(r"/\*.*?\*/|<!--|-->", " ", text, flags=re.S)
        for selectors, body in _RULE.findall(text):
            for selector in selectors.split(","):
                if found := _SELECTOR.match(selector.strip()):
                    marks = frozenset(re.findall(r"[.#][\w-]+", found.group(2)))
                    rank = (10 * sum(m[0] == "#" for m in marks) + len(marks), len(self._rules))
                    self._rules.append((rank, found.group(1), marks, declarations(body)))
        self._rules.sort(key=lambda rule: rule[0])

    def of(self, kind: str, names: str, ident: str | None) -> dict[str, str]:
        """What the rules say for an element of a kind with classes (as written) and an id."""
        if not self._rules:
            return {}
        marks = {f".{n}" for n in names.split()} | ({f"#{ident}"} if ident else set())
        found: dict[str, str] = {}
        for _, element, wanted, body in self._rules:
            if element in ("", "*", kind) and wanted <= marks:
                found.update(body)
        return found


def styled(above: Style, get: Mapping[str, str], rules: Mapping[str, str]) -> Style:
    """The style of an element: its own style attribute, then sheet rules, then attributes, then what it inherits."""
    own: dict[str, str] = {k: get[k] for k in (*_INHERITED, *_LOCAL) if k in get}
    own.update(rules)
    own.update(declarations(get.get("style")))
    own = {k: v for k, v in own.items() if v != "inherit"}
    if not own and not any(k in above for k in _LOCAL):
        return above
    kept = {k: v for k, v in above.items() if k not in _LOCAL}
    if "em" in own.get("font-size", "") or "%" in own.get("font-size", ""):
        own["font-size"] = str(_relative(own["font-size"], length_user(above.get("font-size"), 16.0)))
    kept.update({k: v for k, v in own.items() if k in _INHERITED or k in _LOCAL})
    return kept


def _relative(text: str, parent: float) -> float:
    value = numbers(text)
    return parent * (value[0] / (100 if "%" in text else 1) if value else 1.0)


def hidden(style: Style) -> bool:
    """Is the element and all that is in it left out of the picture?"""
    return style.get("display") == "none" or _zero(style.get("opacity"))


def paint(style: Style, what: str) -> Colour | None:
    """Colour of its ``stroke`` or ``fill``; None where nothing is painted."""
    value = style.get(what, "none").strip()
    if value in ("none", "transparent") or _zero(style.get(f"{what}-opacity")):
        return None
    return colour(style.get("color", "black") if value.lower() == "currentcolor" else value)


def _zero(text: str | None) -> bool:
    return bool(text) and numbers(text)[:1] == [0.0]


def colour(text: str) -> Colour:
    """A colour as written in SVG; black where it is a pattern, a gradient, or unknown.

    >>> colour("#f00"), colour("rgb(0, 50%, 0)")
    ((1.0, 0.0, 0.0), (0.0, 0.5, 0.0))
    """
    text = text.strip().lower()
    if text.startswith("#"):
        digits = text[1:]
        if len(digits) in (3, 4):
            digits = "".join(c * 2 for c in digits)
        try:
            return _split(int(digits[:6], 16))
        except ValueError:
            return (0.0, 0.0, 0.0)
    if text.startswith("rgb"):
        parts = re.findall(r"([\d.]+)(%?)", text)[:3]
        if len(parts) == 3:
            return tuple(min(float(n) / (100 if share else 255), 1.0) for n, share in parts)
    return _split(_COLOURS.get(text, 0))


def _split(rgb: int) -> Colour:
    return ((rgb >> 16) / 255, (rgb >> 8 & 255) / 255, (rgb & 255) / 255)


def dashes(style: Style, scale: float) -> tuple[float, ...]:
    """The dash lengths in mm (rounded to 0.001, so that equal pens compare equal); empty for a plain line."""
    values = [abs(v) * scale for v in numbers(style.get("stroke-dasharray", ""))]
    if sum(values) <= 0:
        return ()
    return tuple(round(v, 3) for v in (values * 2 if len(values) % 2 else values))
