"""Optional content of PDF: names of layers, in the order of the file."""

from __future__ import annotations

import pikepdf


def layer_name(item: object) -> str | None:
    """The name of an optional-content group, or of the first group of a membership dictionary."""
    if not isinstance(item, pikepdf.Dictionary):
        return None
    name = item.get("/Name")
    if item.get("/Type") != "/OCMD" and name is not None:
        return str(name).strip()
    groups = item.get("/OCGs")
    if isinstance(groups, pikepdf.Array):
        groups = next((g for g in groups if isinstance(g, pikepdf.Dictionary)), None)
    if isinstance(groups, pikepdf.Dictionary) and groups.get("/Name") is not None:
        return str(groups["/Name"]).strip()
    return None


def layer_order(pdf: pikepdf.Pdf) -> tuple[str, ...]:
    """Names of all layers: first those of the list that programs show, then the others."""
    content = pdf.Root.get("/OCProperties")
    if not isinstance(content, pikepdf.Dictionary):
        return ()
    shown = content.get("/D")
    order = shown.get("/Order") if isinstance(shown, pikepdf.Dictionary) else None
    groups = [*_listed(order, 0), *_listed(content.get("/OCGs"), 0)]
    return tuple(dict.fromkeys(name for g in groups if (name := layer_name(g)) is not None))


def _listed(item: object, depth: int) -> list[object]:
    if isinstance(item, pikepdf.Array) and depth < 20:
        return [g for inner in item for g in _listed(inner, depth + 1)]
    return [item] if isinstance(item, pikepdf.Dictionary) else []
