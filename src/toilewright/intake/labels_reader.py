"""Reading the labels file: what she wrote, checked entry by entry; one clear sentence for each slip."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from pathlib import Path as FilePath
from typing import Any

from toilewright.body.sheet import check_signs
from toilewright.errors import FileError, InputError, NameUnknown, UnitError
from toilewright.intake.label_types import USUAL_ALLOWANCE, EdgeLabel, Labels, PieceLabel, SeamLabel
from toilewright.intake.labels_file import DEGREES
from toilewright.pattern.garment import EdgeRef, Seam
from toilewright.pattern.nest import BodyChart
from toilewright.pattern.parts import Cut, EdgeKind
from toilewright.units import parse_length

LARGEST = 1_000_000
"""Bytes; no labels file is larger."""

WIDEST, WIDEST_HEM = 100.0, 250.0
"""mm; no seam allowance, and no hem, is wider: 15 cm is a slip for 1.5 cm."""

MOST_CUT = 99
"""How many of one piece a garment may need (the petals of a frill)."""

_TOP = ("name", "cloth", "printed_line", "allowance", "sizes", "chart", "piece", "seam")
_PIECE = ("printed", "name", "cut", "pair", "cloth", "bust_point_beyond", "darts", "notches", "lines", "edges")
_EDGE = ("name", "kind", "allowance", "from")
_SEAM = ("name", "sew", "to", "ease", "gather", "confirmed")


def read_labels(path: str | FilePath) -> Labels:
    """Read a labels file.

    Raises:
        FileError: it is missing or is no TOML (with the line).
        InputError: something in it cannot be meant (with the place, and what would do).
    """
    path = FilePath(path)
    try:
        data = path.read_bytes()
    except OSError as problem:
        raise FileError(f'The labels file "{path}" could not be read ({problem.strerror or problem}); let '
                        "`toilewright read` write a new one.") from problem
    if len(data) > LARGEST:
        raise FileError(f'"{path.name}" is {len(data) / 1e6:.0f} MB, too large for a labels file; is it another file?')
    try:
        found = tomllib.loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as problem:
        raise FileError(f'"{path.name}" is no text file in UTF-8; save it again as plain text.') from problem
    except (ValueError, RecursionError) as problem:  # a number of thousands of digits is a ValueError
        raise FileError(f'"{path.name}" cannot be read as a labels file: {_said(problem)}; compare that line with '
                        "the ones around it (quotes, commas and brackets come in pairs).") from problem
    check_signs(found, f'"{path.name}"')
    return _labels(_Table(found, f'"{path.name}"'))


def _said(problem: Exception) -> str:
    text = str(problem) or "it is nested too deeply"
    return text[0].lower() + text[1:]


class _Table:
    """One table of the file, and where it is; every access says clearly what is wrong."""

    def __init__(self, data: dict[str, Any], where: str) -> None:
        self.data, self.where = data, where

    def only(self, known: Sequence[str]) -> _Table:
        for key in self.data:
            if key not in known:
                raise NameUnknown.among("entry", key, known, self.where)
        return self

    def get(self, key: str, kind: type | tuple[type, ...], meant: str, default: Any = ...) -> Any:
        if key not in self.data:
            if default is ...:
                raise InputError(f'"{key}" is missing in {self.where}; add {meant}.')
            return default
        value = self.data[key]
        if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
            raise InputError(f'"{key}" in {self.where} should be {meant}, not {value!r}.')
        return value

    def text(self, key: str, default: Any = ...) -> str:
        return self.get(key, str, 'words in quotes, such as "side seam"', default)

    def names(self, key: str, default: Any = ...) -> tuple[str, ...]:
        values = self.get(key, list, 'names in brackets, such as ["waist dart"]', default)
        if not all(isinstance(v, str) for v in values):
            raise InputError(f'"{key}" in {self.where} should hold names in quotes only, such as ["waist dart"].')
        return tuple(values)

    def length(self, key: str, default: Any = ...) -> Any:
        value = self.get(key, (str, int, float), 'a length such as "1.5 cm"', default)
        return value if value is default else self.as_length(key, value)

    def as_length(self, key: str, value: str | float) -> float:
        try:
            return round(parse_length(value), 4)
        except UnitError as problem:
            raise InputError(f'"{key}" in {self.where}: {problem}') from problem

    def tables(self, key: str, what: str) -> list[dict[str, Any]]:
        values = self.get(key, list, f"{what} tables", [])
        if not all(isinstance(v, dict) for v in values):
            raise InputError(f'"{key}" in {self.where} should hold {what} tables only.')
        return values


def _labels(top: _Table) -> Labels:
    top.only(_TOP)
    line = top.text("printed_line", "cutting")
    if line not in ("cutting", "seam"):
        raise InputError(f'"printed_line" in {top.where} should be "cutting" or "seam", not "{line}".')
    sizes = top.get("sizes", dict, 'lines such as "38" = "38"')
    if not sizes or not all(isinstance(v, str) and v for v in sizes.values()):
        raise InputError(f'"sizes" in {top.where} should give each size on the sheet a name in quotes, '
                         'such as "38" = "38".')
    if len(set(sizes.values())) != len(sizes):
        raise InputError(f'"sizes" in {top.where} gives two sizes the same name; each needs its own.')
    pieces = tuple(_piece(_Table(p, f"piece {i + 1} of {top.where}"))
                   for i, p in enumerate(top.tables("piece", "piece")))
    for what in ("printed", "name"):
        names = [getattr(p, what) for p in pieces]
        double = next((n for n in names if names.count(n) > 1), None)
        if double:
            raise InputError(f'Two pieces in {top.where} have "{what}" = "{double}"; each piece needs its own.')
    seams = tuple(_seam(_Table(s, f"seam {i + 1} of {top.where}"), pieces)
                  for i, s in enumerate(top.tables("seam", "seam")))
    return Labels(top.text("name"), _allowance(top, WIDEST), line, tuple(sizes.items()), pieces, seams,
                  _chart(top, tuple(sizes.values())), top.text("cloth", ""))


def _chart(top: _Table, sizes: tuple[str, ...]) -> BodyChart | None:
    rows = top.get("chart", dict, 'rows such as "bust girth" = [80, 84, 88]', None)
    if not rows:
        return None
    out = []
    for name, values in rows.items():
        if not isinstance(values, list) or not all(type(v) in (int, float) for v in values):
            raise InputError(f'Row "{name}" of the chart in {top.where} should be numbers in cm, such as [80, 84, 88].')
        if len(values) != len(sizes):
            raise InputError(f'Row "{name}" of the chart in {top.where} has {len(values)} numbers for {len(sizes)} '
                             "sizes; give one for each size.")
        out.append((name, tuple(float(v) if name == DEGREES else round(v * 10, 4) for v in values)))
    return BodyChart(sizes, tuple(out))


def _piece(table: _Table) -> PieceLabel:
    table.only(_PIECE)
    name = table.text("name")
    table.where = f'piece "{name}"'
    edges = tuple(_edge(_Table(e, f'edge {i + 1} of piece "{name}"'))
                  for i, e in enumerate(table.tables("edges", "edge")))
    if not edges:
        raise InputError(f'Piece "{name}" has no edges in the labels; list them in order round the piece.')
    _edge_runs(name, edges)
    count = table.get("cut", int, "a whole number", 1)
    if not 1 <= count <= MOST_CUT:
        raise InputError(f'"cut" in piece "{name}" should be 1 or more ({MOST_CUT} at most), not '
                         f"{count}.")
    return PieceLabel(
        table.text("printed"), name, edges, table.names("darts", []), table.names("notches", []),
        table.names("lines", []), table.length("bust_point_beyond", None),
        Cut(count, table.get("pair", bool, "true or false", False), table.text("cloth", "self")))


def _edge_runs(piece: str, edges: Sequence[EdgeLabel]) -> None:
    """One name may be repeated only by neighbours."""
    names = [e.name for e in edges]
    starts = [n for i, n in enumerate(names) if n != names[i - 1]]
    double = next((n for n in starts if starts.count(n) > 1), None)
    if double:
        raise InputError(f'Piece "{piece}" has two separate edges called "{double}"; give one of them another name, '
                         f'such as "{double} 2".')


def _edge(table: _Table) -> EdgeLabel:
    table.only(_EDGE)
    kind = table.text("kind", "seam")
    known = [k.value for k in EdgeKind]
    if kind not in known:
        raise NameUnknown.among("kind of edge", kind, known, table.where)
    allowance = _allowance(table, WIDEST_HEM if kind == EdgeKind.HEM else WIDEST)
    if kind == EdgeKind.FOLD and allowance:
        raise InputError(f'{table.where.capitalize()} lies on the fold and cannot have an allowance of '
                         f'{allowance / 10:g} cm; make it "0 cm", or change "kind".')
    name = table.text("name")
    if not name.strip():
        raise InputError(f'"name" in {table.where} is empty; give it a name such as "side seam".')
    return EdgeLabel(name, EdgeKind(kind), allowance, table.text("from", ""))


def _allowance(table: _Table, widest: float) -> float:
    allowance = table.length("allowance", USUAL_ALLOWANCE)
    if not 0 <= allowance <= widest:
        raise InputError(f'"allowance" in {table.where} is {allowance / 10:g} cm; an allowance is 0 or more, and not '
                         f"wider than {widest / 10:g} cm.")
    return allowance


def _seam(table: _Table, pieces: Sequence[PieceLabel]) -> SeamLabel:
    table.only(_SEAM)
    name = table.text("name")
    table.where = f'seam "{name}"'
    sides = []
    for key in ("sew", "to"):
        refs = tuple(_ref(text, table.where, pieces) for text in table.names(key))
        if not refs:
            raise InputError(f'"{key}" in {table.where} names no edge; write for example ["bodice front: shoulder"].')
        sides.append(refs)
    ease = table.get("ease", list, 'two lengths such as ["0 cm", "1 cm"]', [0, 0])
    if len(ease) != 2 or not all(isinstance(e, (str, int, float)) for e in ease):
        raise InputError(f'"ease" in {table.where} should be two lengths, least and most, such as ["0 cm", "1 cm"].')
    low, high = (table.as_length("ease", e) for e in ease)
    if low > high:
        raise InputError(f'"ease" in {table.where} has its least amount above its most; write the smaller one first.')
    ratio = table.get("gather", (int, float), "a number such as 2 (twice as long)", None)
    if ratio is not None and ratio < 1:
        raise InputError(f'"gather" in {table.where} is {ratio:g}; gathered cloth is longer than what it is sewn to, '
                         "so it should be 1 or more.")
    return SeamLabel(Seam(name, *sides, (low, high), None if ratio is None else float(ratio)),
                     table.get("confirmed", bool, "true or false", False))


def _ref(text: str, where: str, pieces: Sequence[PieceLabel]) -> EdgeRef:
    found = re.fullmatch(r"(?:(\d+)\s*[x×]\s*)?(.+?)\s*:\s*(.+?)(\s*,\s*backwards)?", text.strip())
    if not found:
        raise InputError(f'"{text}" in {where} is no edge; write the piece, a colon and the edge, such as '
                         '"bodice front: shoulder" or "bodice front: armhole, backwards".')
    piece = next((p for p in pieces if p.name == found[2]), None)
    if piece is None:
        raise NameUnknown.among("piece", found[2], [p.name for p in pieces], where)
    names = list(dict.fromkeys(e.name for e in piece.edges))
    if found[3] not in names:
        raise NameUnknown.among("edge", found[3], names, f'piece "{piece.name}", {where}')
    return EdgeRef(piece.name, found[3], bool(found[4]), int(found[1] or 1))
