"""Size names, and which stroke belongs to which size when layers say so."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from toilewright.errors import Finding, Severity
from toilewright.intake.drawing import Stroke

_WORD = r"(?:sizes?|sz|gr(?:ö|oe|o)?(?:ß|ss)?e?|taille|talla|taglia|maat|storlek|eu|eur|de|uk|us|fr|it|misses)"
_AGE = r"(?:y(?:rs?|ears?)?|m(?:ths?|onths?)?|ans|mois|jahre|monate|t)"
_TOKEN = (rf"(\d{{1,3}}(?:[.,]\d)?(?:\s*[/\-–]\s*\d{{1,3}})?(?:\s*{_AGE})?|(?:x{{1,5}}|\d{{1,2}}x)?[sl]|m|"
          r"[sml]\s*/\s*x?[ml]|(?:(?:x|extra) ?)?(?:small|large)|medium|one size)")
_SIZE = re.compile(rf"^(?:(?:{_WORD}(?:\b\.?|(?=\d))|t(?=\d))\s*)*{_TOKEN}"
                   rf"(?:\s*(?:{_WORD}|only|cutting line|cut line|outline))*$", re.I)
_SAID = re.compile(rf"\b(?:sizes?|gr(?:ö|oe)?(?:ß|ss)?e?|taille|talla|taglia|maat|eur?|u[sk])\b\W{{0,2}}{_TOKEN}"
                   r"(?!\w)", re.I)
_SHARED = re.compile(r"\b(all|common|shared|text|words?|labels?|frame|border|pages?|grid|tiles?|legend|title|info|"
                     r"test|square|marks?|markings?|notes?|instructions?|alle|rahmen|seite|texte?|cadre|layer|ebene|"
                     r"calque)\b", re.I)


@dataclass(frozen=True, slots=True)
class SizeSplit:
    """The strokes of each size, and those that are drawn once for all.

    Attributes:
        sizes: names, in the order of the file.
        strokes: for each size its strokes.
        common: strokes of no single size.
        how: what told them apart: ``layer``, ``colour`` (and dash), ``look`` (dash or width alone: marks of all sizes
            may look alike), ``nesting``, ``words`` on pieces laid side by side, or ``one`` size only.
    """

    sizes: tuple[str, ...]
    strokes: tuple[tuple[Stroke, ...], ...]
    common: tuple[Stroke, ...]
    how: str
    findings: tuple[Finding, ...] = ()


def size_name(text: str) -> str | None:
    """The size that a layer name or caption stands for, or None.

    >>> size_name("Size 12"), size_name("Gr. 38"), size_name("size_3"), size_name("xl"), size_name("Text")
    ('12', '38', '3', 'XL', None)
    >>> size_name("2Y"), size_name("T38"), size_name("6 months"), size_name("Medium")
    ('2Y', '38', '6 months', 'Medium')
    """
    plain = re.sub(r"(?:[_:.\s]|[-–](?!\d)|(?<!\d)[-–])+", " ", text).strip()
    found = _SIZE.match(plain)
    if not found or ((span := re.fullmatch(r"(\d+)\s*[-–]\s*(\d+)", found[1])) and not (
            0 < int(span[2]) - int(span[1]) < 3)):
        return None  # "8-16" tells the range of all sizes
    return _tidy(found[1])


def _tidy(name: str) -> str:
    """A size without spaces, in capitals; words ("6 months", "Medium") as they are written."""
    return name if re.search(r"[^\W\d_]{3}", name) and not re.fullmatch(r"x+[sl]", name, re.I) else (
        re.sub(r"\s+", "", name).upper())


def said_size(text: str) -> str | None:
    """The size that words tell beside a name, or None.

    >>> said_size("Skirt front - size 36"), said_size("Gr. 38"), said_size("Sleeve")
    ('36', '38', None)
    """
    said = _SAID.search(text)
    return size_name(text) or (size_name(said[1]) if said else None)


def layer_sizes(layers: Iterable[str]) -> dict[str, str]:
    """For each layer that stands for a size, that size; layers for all sizes are left out.

    Layers that carry a size beside other words ("dress 36", "dress 38") count when nothing else tells sizes.
    """
    names = [n for n in dict.fromkeys(layers)]
    plain = {n: s for n in names if (s := size_name(n))}
    if len(plain) > 1:
        return plain
    worded: dict[str, str] = {}
    for name in names:
        tokens = re.split(r"[_\-–:.\s]+", name)
        said = _SAID.search(name.replace("_", " "))
        ends = [said[1]] if said else [t for t in (tokens[-1], tokens[0]) if size_name(t)]
        if ends and len(tokens) > 1 and not _SHARED.search(name.replace("_", " ")):
            worded[name] = size_name(ends[0]) or ""
    return {**worded, **plain} if len(set(worded.values()) | set(plain.values())) > 1 else plain


def split_by_layer(strokes: Sequence[Stroke]) -> SizeSplit | None:
    """Sort strokes into sizes by the names of their layers; None when no layer names a size."""
    named = layer_sizes(s.look.layer for s in strokes if s.look.layer)
    if not named:
        return None
    findings = (one_size_finding(next(iter(named.values()))),) if len(set(named.values())) == 1 else ()
    return shared_out(strokes, lambda s: named.get(s.look.layer or ""), "layer", findings)


def shared_out(strokes: Sequence[Stroke], size_of: Callable[[Stroke], str | None], how: str,
               findings: tuple[Finding, ...]) -> SizeSplit:
    """One heap of strokes for each size, and one for those of no size."""
    heaps: dict[str, list[Stroke]] = {}
    common = []
    for stroke in strokes:
        size = size_of(stroke)
        if size is None:
            common.append(stroke)
        else:
            heaps.setdefault(size, []).append(stroke)
    return SizeSplit(tuple(heaps), tuple(tuple(h) for h in heaps.values()), tuple(common), how, findings)


def one_size_finding(name: str) -> Finding:
    """The note that a sheet shows one size only."""
    return Finding("one-size", f'The sheet shows one size only ("{name}"); sizes cannot be compared or blended.',
                   Severity.NOTE, size=name)
