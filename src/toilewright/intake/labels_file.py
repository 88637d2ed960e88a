"""Writing the labels file: small TOML that is edited by hand."""

from __future__ import annotations

from pathlib import Path as FilePath
from typing import Any

import tomlkit

from toilewright.errors import FileError
from toilewright.files import replacing
from toilewright.intake.label_types import Labels, PieceLabel, SeamLabel
from toilewright.pattern.garment import EdgeRef

DEGREES = "shoulder slope"
"""The one row of a body chart that is no length."""

_HEAD = """\
Labels: what everything on the pattern sheet is called. The program's guesses; put right what is wrong and save.
Lengths carry their unit ("1.5 cm", "5/8 in"); a bare number is cm.
Edges go round the piece against the clock, from its lowest left corner. The same name for two edges in a row
makes them one edge. Keep the number of entries; names are yours, but the usual ones (side seam, armhole, waist,
centre front ...) let the alterations find their way."""


def write_labels(labels: Labels, path: str | FilePath) -> None:
    """Write the labels file whole, or not at all.

    An older labels file that says something else is kept beside it, its name ending in ``.old``.

    Raises:
        FileError: the folder cannot be written to, or something there is no labels file.
    """
    path = FilePath(path)
    text = tomlkit.dumps(_document(labels))
    try:
        _keep_older(path, text)
        with replacing(path) as name:
            FilePath(name).write_text(text, encoding="utf-8")
    except OSError as problem:
        raise FileError(f'The labels could not be written to "{path}" ({problem.strerror or problem}); choose a folder '
                        "that exists and may be written to.") from problem


def _keep_older(path: FilePath, text: str) -> None:
    """Save what she may have corrected; refuse to replace what is no labels file."""
    if not path.exists():
        return
    if path.is_file():
        older = path.read_bytes()
        if not older.strip() or older == text.encode("utf-8"):
            return
        if b"[[piece]]" in older:
            path.with_name(f"{path.name}.old").write_bytes(older)
            return
    raise FileError(f'"{path}" is there already and is no labels file; give the labels another name.')


def _document(labels: Labels) -> tomlkit.TOMLDocument:
    doc = tomlkit.document()
    for line in _HEAD.splitlines():
        doc.add(tomlkit.comment(line))
    doc.add(tomlkit.nl())
    doc.add("name", _item(labels.name))
    if labels.cloth:
        doc.add("cloth", _item(labels.cloth, "what the envelope recommends"))
    doc.add("printed_line", _item(labels.line, 'what the printed outline is: "cutting" or "seam"'))
    doc.add("allowance", _item(show_cm(labels.allowance), "the usual seam allowance"))
    sizes = tomlkit.table()
    sizes.comment("name on the sheet = the name you want")
    for printed, name in labels.sizes:
        sizes.add(printed, name)
    doc.add("sizes", sizes)
    if labels.chart:
        chart = tomlkit.table()
        chart.comment("the envelope's body measures in cm, one for each size, smallest first")
        for name, values in labels.chart.rows:
            chart.add(name, [_plain(v if name == DEGREES else v / 10) for v in values])
        doc.add("chart", chart)
    pieces, seams = tomlkit.aot(), tomlkit.aot()
    for piece in labels.pieces:
        pieces.append(_piece_table(piece))
    for seam in labels.seams:
        seams.append(_seam_table(seam))
    doc.add("piece", pieces)
    if labels.seams:
        doc.add("seam", seams)
    return doc


def _piece_table(piece: PieceLabel) -> Any:
    table = tomlkit.table()
    table.add("printed", _item(piece.printed, "on the sheet; leave it"))
    table.add("name", piece.name)
    table.add("cut", _item(piece.cut.count, "how many of cloth"))
    table.add("pair", _item(piece.cut.mirrored, "true: a left and a right one"))
    table.add("cloth", piece.cut.cloth)
    if piece.bust_point_beyond is not None:
        table.add("bust_point_beyond", _item(show_cm(piece.bust_point_beyond), "how far past the bust dart's point"))
    for key, names in (("darts", piece.darts), ("notches", piece.notches), ("lines", piece.lines)):
        if names:
            table.add(key, _item(list(names), "in the order of the edges" if key != "lines" else "inside the piece"))
    edges = tomlkit.array()
    for edge in piece.edges:
        entry = tomlkit.inline_table()
        entry.update({"name": edge.name, "kind": edge.kind.value, "allowance": show_cm(edge.allowance),
                      "from": edge.starts})
        edges.add_line(entry)
    edges.add_line(indent="")
    table.add("edges", edges)
    return table


def _seam_table(label: SeamLabel) -> Any:
    seam, table = label.seam, tomlkit.table()
    table.add("name", seam.name)
    table.add("sew", [show_ref(r) for r in seam.a])
    table.add("to", [show_ref(r) for r in seam.b])
    if seam.ease != (0.0, 0.0):
        table.add("ease", _item([show_cm(e) for e in seam.ease], "least and most that the second side may be longer"))
    if seam.ratio is not None:
        table.add("gather", _item(_plain(seam.ratio), "the second side is gathered: its length over the first's"))
    table.add("confirmed", _item(label.confirmed, "" if label.confirmed else "its two sides do not agree: look at it"))
    return table


def _item(value: Any, comment: str = "") -> Any:
    item = tomlkit.item(value)
    return item.comment(comment) if comment else item


def _plain(value: float) -> float | int:
    value = round(value, 4)
    return int(value) if value == int(value) else value


def show_cm(mm: float) -> str:
    """An amount for the file, e.g. ``1.5 cm``."""
    return f"{_plain(mm / 10)} cm"


def show_ref(ref: EdgeRef) -> str:
    """An edge of a seam for the file, e.g. ``2 x bodice front: waist, backwards``."""
    times = f"{ref.times} x " if ref.times != 1 else ""
    return f"{times}{ref.piece}: {ref.edge}{', backwards' if ref.reverse else ''}"
