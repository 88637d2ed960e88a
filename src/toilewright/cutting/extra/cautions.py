"""What is said of safety beside extra pieces, once and where it belongs. The rules themselves are the country's."""

from __future__ import annotations

from toilewright.errors import Finding, Severity

CORDS_SOURCES = ("EN 14682 and ASTM F1816: cords and drawstrings on children's clothes",)

_NEAR_THE_NECK = ("neck", "hood", "collar", "shoulder")


def cords(piece: str, where: str, for_child: bool) -> Finding:
    """The caution about cords and ties on children's clothes.

    Args:
        where: the edge they are sewn to, in words; "" where nobody knows.
        for_child: is the garment a child's? It is then to be looked at, not just noted.
    """
    near = any(word in where for word in _NEAR_THE_NECK)
    if for_child and near:
        text = (f'"{piece}" is a tie near a child\'s neck, where ties and drawstrings are mostly not allowed on young '
                "children's clothes (EN 14682, ASTM F1816); use a button, a press stud or tape that comes open "
                "instead, and ask for the rule where you live.")
    elif for_child:
        text = (f'"{piece}" is a tie on a child\'s garment: how long its free ends may be, and where, is laid down '
                "(EN 14682, ASTM F1816); ask for the rule where you live before you cut it.")
    else:
        text = ("Ties and drawstrings on children's clothes are regulated (EN 14682, ASTM F1816); for a child, say "
                'wearer = "child" and ask for the rule where you live.')
    return Finding("cords", text, Severity.LOOK if for_child else Severity.NOTE, piece)
