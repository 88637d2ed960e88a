"""Names put right: a change of one entry, with everything else that has to follow it, checked before it is saved."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from toilewright.app.changes import measured
from toilewright.app.words import say
from toilewright.errors import InputError
from toilewright.intake.label_types import Labels
from toilewright.make.keeping import labels_from, plain_labels
from toilewright.pattern.nest import BodyChart
from toilewright.workroom.changes import applied
from toilewright.workroom.documents import PatternDoc

Row = tuple[tuple[str, ...], Any]
Plain = dict[str, Any]

_FOLD = "fold"


def rows_for(doc: PatternDoc, labels: Labels, asked: Sequence[Row]) -> list[Row]:
    """What is to be changed in the document for changes of its labels.

    Args:
        labels: its present names.
        asked: paths inside the labels, and values; ``("chart", measure)`` takes one value for each size, or None.

    Returns:
        Changes as for the store, as fine as they can be: two people may name different pieces at the same time.

    Raises:
        InputError: the names would not be usable like that; nothing is to be saved.
    """
    old = plain_labels(labels)
    new = old
    try:
        for path, value in asked:
            new = _changed(new, path, value)
    except (LookupError, TypeError, ValueError):
        raise InputError(say("pattern.odd_change")) from None
    checked(new)
    if doc.labels is None:
        return [(("labels",), new)]
    return list(_differences(old, new, ("labels",)))


def checked(labels: Plain) -> Labels:
    """The labels of plain values, looked through as a labels file is: each slip is one sentence.

    Raises:
        InputError: something in them cannot be meant.
    """
    made = labels_from(labels)
    read_toml(as_toml(made))
    names = [row.seam.name for row in made.seams]
    double = next((name for name in names if names.count(name) > 1), None)
    if double:
        raise InputError(say("pattern.seam_twice", name=double))
    for piece in made.pieces:
        if len(set(piece.darts)) < len(piece.darts):
            raise InputError(say("pattern.dart_twice", piece=piece.name))
    return made


def as_toml(labels: Labels) -> bytes:
    """Labels as a labels file."""
    from toilewright.intake.labels_file import write_labels

    with tempfile.TemporaryDirectory(prefix="toilewright-") as folder:
        path = Path(folder) / "labels.toml"
        write_labels(labels, path)
        return path.read_bytes()


def read_toml(data: bytes, name: str = "") -> Labels:
    """The labels of a labels file.

    Raises:
        InputError: it is none, or something in it cannot be meant.
    """
    from toilewright.intake.labels_reader import read_labels

    with tempfile.TemporaryDirectory(prefix="toilewright-") as folder:
        path = Path(folder) / (name or say("pattern.these_names"))
        path.write_bytes(data)
        return read_labels(path)


# -- one change, and what follows it -------------------------------------------------------------------


def _changed(labels: Plain, path: tuple[str, ...], value: Any) -> Plain:
    if isinstance(value, str):
        value = " ".join(value.split())
    if path[0] == "chart" and len(path) == 2:
        return {**labels, "chart": _chart(labels, path[1], value)}
    if path[-1] == "name" and not value:
        raise InputError(say("pattern.no_name"))
    before = labels
    after = applied([(("labels", *path), measured(value))], {"labels": labels})["labels"]
    match path:
        case ("name",):
            pass
        case ("allowance",):
            _usual_allowance(after, before["allowance"])
        case ("sizes", number, "1"):
            _rename_size(after, int(number))
        case ("pieces", number, "name"):
            _rename_piece(after, before["pieces"][int(number)]["name"], value)
        case ("pieces", number, "edges", edge, "name"):
            _rename_edge(after, int(number), before["pieces"][int(number)]["edges"][int(edge)]["name"], value)
        case ("pieces", number, "edges", edge, "kind"):
            _fold_allowance(after, after["pieces"][int(number)]["edges"][int(edge)])
        case _:
            pass
    return after


def _chart(labels: Plain, measure: str, values: Sequence[Any] | None) -> Plain | None:
    """The envelope's chart with one row written, or taken out."""
    sizes = [name for _, name in labels["sizes"]]
    rows = dict((labels.get("chart") or {"rows": []})["rows"])
    if values is None:
        rows.pop(measure, None)
    else:
        from toilewright.body.measures import find_measure

        one = find_measure(measure)
        rows[one.name] = [measured(v) for v in values]
        for value in rows[one.name]:
            if not isinstance(value, (int, float)) or not one.low * 0.4 <= value <= one.high * 1.6:
                raise InputError(say("pattern.chart_odd", name=one.name))
        BodyChart(tuple(sizes), ((one.name, tuple(rows[one.name])),))
    return {"sizes": sizes, "rows": [[name, row] for name, row in rows.items()]} if rows else None


def _usual_allowance(labels: Plain, old: float) -> None:
    """Edges that have the usual allowance go on having it."""
    for edge in _edges(labels):
        if edge["kind"] != _FOLD and abs(edge["allowance"] - old) < 0.01:
            edge["allowance"] = labels["allowance"]


def _fold_allowance(labels: Plain, edge: Plain) -> None:
    if edge["kind"] == _FOLD:
        edge["allowance"] = 0.0
    elif not edge["allowance"]:
        edge["allowance"] = labels["allowance"]


def _rename_size(labels: Plain, number: int) -> None:
    if labels.get("chart"):
        labels["chart"]["sizes"][number] = labels["sizes"][number][1]


def _rename_piece(labels: Plain, old: str, new: str) -> None:
    for ref in _refs(labels):
        if ref["piece"] == old:
            ref["piece"] = new


def _rename_edge(labels: Plain, number: int, old: str, new: str) -> None:
    """Seams follow, unless another stretch of the piece keeps the old name."""
    piece = labels["pieces"][number]
    if any(edge["name"] == old for edge in piece["edges"]):
        return
    for ref in _refs(labels):
        if (ref["piece"], ref["edge"]) == (piece["name"], old):
            ref["edge"] = new


def _edges(labels: Plain) -> Iterator[Plain]:
    for piece in labels["pieces"]:
        yield from piece["edges"]


def _refs(labels: Plain) -> Iterator[Plain]:
    for row in labels["seams"]:
        yield from row["seam"]["a"]
        yield from row["seam"]["b"]


def _differences(old: Any, new: Any, path: tuple[str, ...]) -> Iterator[Row]:
    """The finest entries in which two plain values differ."""
    if old == new:
        return
    if isinstance(old, dict) and isinstance(new, dict):
        for key in dict.fromkeys((*old, *new)):
            yield from _differences(old.get(key), new.get(key), (*path, key))
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new) and None not in new:
        for number, (one, other) in enumerate(zip(old, new, strict=True)):
            yield from _differences(one, other, (*path, str(number)))
    else:
        yield path, new
