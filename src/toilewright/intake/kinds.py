"""What is known about the usual pieces: their names in several languages, their edges, notches and corners.

Edges are listed counter-clockwise for a piece that lies with its grain upright, its centre at the left and its side at
the right; a piece of the other hand is the mirror image. Common practice, no published source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from toilewright.pattern.parts import EdgeKind


@dataclass(frozen=True, slots=True)
class EdgeSpec:
    """What an edge usually looks like.

    Attributes:
        name: in the words used everywhere else.
        facing: direction its outer side looks in (degrees, 0 is right, 90 is up).
        bend: ``straight``, ``hollow`` (curved into the piece), ``round`` (out of it), ``level`` (anything but
            round) or ``any``.
        long: the edge is one of the piece's long ones (True), short ones (False), or either (None).
        fold: the edge may lie on the fold.
        darts: darts may open on it.
        kind: what happens to it, where it is not on the fold.
        notched: it carries balance marks more often than the edge opposite.
    """

    name: str
    facing: float
    bend: str = "any"
    long: bool | None = None
    fold: bool = False
    darts: bool = False
    kind: EdgeKind = EdgeKind.SEAM
    notched: bool = False


@dataclass(frozen=True, slots=True)
class PieceKind:
    """A usual piece: its name, its edges in order, and whether it may lie any way up (bands and strips)."""

    name: str
    edges: tuple[EdgeSpec, ...]
    strip: bool = False

    @property
    def told_by_shape(self) -> bool:
        """Can the piece be told without its name?"""
        return not self.strip and not self.name.endswith("facing") and not self.name.startswith("wrap")


def _bodice(side: str) -> PieceKind:
    centre = EdgeSpec(f"centre {side}", 180, "straight", fold=True,
                      kind=EdgeKind.OPENING if side == "back" else EdgeKind.SEAM)
    return PieceKind(f"bodice {side}", (
        centre, EdgeSpec("waist", 270, darts=True), EdgeSpec("side seam", 0, "straight", darts=side == "front"),
        EdgeSpec("armhole", 22, "hollow", darts=True), EdgeSpec("shoulder", 72, "straight", darts=True),
        EdgeSpec("neck", 138, "hollow", darts=True)))


def _skirt(name: str, centre: str) -> PieceKind:
    kind = EdgeKind.OPENING if centre in ("centre back", "wrap edge") else EdgeKind.SEAM
    return PieceKind(name, (
        EdgeSpec(centre, 180, "straight", fold=centre != "wrap edge", kind=kind),
        EdgeSpec("hem", 270, long=True, kind=EdgeKind.HEM), EdgeSpec("side seam", 6),
        EdgeSpec("waist", 92, "level", darts=True)))


def _facing(side: str) -> PieceKind:
    return PieceKind(f"{side} neck facing", (
        EdgeSpec(f"centre {side}", 180, "straight", fold=True,
                 kind=EdgeKind.OPENING if side == "back" else EdgeKind.SEAM),
        EdgeSpec("outer edge", 315, "round", long=True, kind=EdgeKind.FREE), EdgeSpec("shoulder", 72, "straight"),
        EdgeSpec("neck", 138, "hollow")))


def _strip(name: str, bottom: EdgeSpec, right: EdgeSpec, top: EdgeSpec, left: EdgeSpec) -> PieceKind:
    return PieceKind(name, (bottom, right, top, left), strip=True)


KINDS: dict[str, PieceKind] = {k.name: k for k in (
    _bodice("front"), _bodice("back"),
    PieceKind("sleeve", (EdgeSpec("hem", 270, kind=EdgeKind.HEM), EdgeSpec("underarm front", 0),
                         EdgeSpec("cap", 90, "round", long=True), EdgeSpec("underarm back", 180))),
    _strip("sleeve frill", EdgeSpec("hem", 270, "straight", True, kind=EdgeKind.HEM),
           EdgeSpec("seam front", 0, "straight", False), EdgeSpec("top", 90, "straight", True, notched=True),
           EdgeSpec("seam back", 180, "straight", False)),
    _skirt("skirt front", "centre front"), _skirt("skirt back", "centre back"),
    _strip("skirt tier", EdgeSpec("hem", 270, "straight", True, kind=EdgeKind.HEM),
           EdgeSpec("side seam", 0, "straight", False), EdgeSpec("top", 90, "straight", True, notched=True),
           EdgeSpec("centre front", 180, "straight", False, fold=True)),
    _skirt("wrap skirt front", "wrap edge"), _skirt("wrap skirt back", "centre back"),
    _strip("waistband", EdgeSpec("waist", 270, "straight", True, notched=True),
           EdgeSpec("right end", 0, "straight", False), EdgeSpec("top", 90, "straight", True, fold=True),
           EdgeSpec("left end", 180, "straight", False)),
    _facing("front"), _facing("back"),
    _strip("waist tie", EdgeSpec("long edge", 270, "straight", True), EdgeSpec("end", 0, "straight", False),
           EdgeSpec("fold", 90, "straight", True, fold=True), EdgeSpec("band end", 180, "straight", False)),
)}
"""The usual pieces by name."""

UNFOLDED = {("waist tie", "fold"): "other long edge", ("skirt tier", "centre front"): "other side seam"}
"""Names for edges that are called after the fold they usually lie on, when they do not lie on one."""

_FRONT = r"\bfronts?\b|vorder|vorne|\bdevant\b|\bvoorpand\b|\bdelantero\b"
_BACK = r"\bbacks?\b|rücken|ruecken|rückteil|hinter|\bdos\b|\bachterpand\b|\bespalda\b"
_WORDS: tuple[tuple[str, str], ...] = (
    ("facing", r"\bfacings?\b|beleg|parementure|\bvista\b"),
    ("frill", r"\bfrills?\b|\bruffles?\b|\bflounces?\b|rüsche|volant"),
    ("tier", r"\btiers?\b|\bstufe"),
    ("tie", r"\bties?\b|bindeband|\bsash\b|\bbelt\b|gürtel"),
    ("waistband", r"\bwaist ?bands?\b|\bbund\b|rockbund|ceinture"),
    ("sleeve", r"\bsleeves?\b|ärmel|aermel|\bmanches?\b|\bmouw\b|\bmanga\b"),
    ("wrap", r"\bwrap\b|\bwickel|portefeuille"),
    ("skirt", r"\bskirts?\b|rock|\bjupe\b|\brok\b|\bfalda\b"),
    ("front", _FRONT), ("back", _BACK),
)
_ELSE = re.compile(r"\bside (?:front|back)|\bcent(?:re|er) (?:front|back) (?:panel|piece)|\bcollar|kragen|"
                   r"\bcuff|manschette|\bpocket|tasche|\byoke|passe|\bplacket|\bloop|\bbinding|\blining\b|futter|"
                   r"\binterfacing\b|\btrouser|\bpant|hose|\bshort|armhole facing|\bgusset|\bhood", re.I)


def kind_of_name(text: str) -> str | None:
    """The usual piece that a printed name stands for, or None.

    >>> kind_of_name("front bodice"), kind_of_name("Rock Vorderteil"), kind_of_name("collar")
    ('bodice front', 'skirt front', None)
    """
    if _ELSE.search(text):
        return None
    said = {word for word, pattern in _WORDS if re.search(pattern, text, re.I)}
    side = "front" if "front" in said else "back" if "back" in said else None
    if "facing" in said:
        return f"{side} neck facing" if side else None
    if "waistband" in said:
        return "waistband"
    if "tie" in said:
        return "waist tie"
    if "tier" in said or ("frill" in said and "skirt" in said):
        return "skirt tier"
    if "frill" in said:
        return "sleeve frill"
    if "sleeve" in said:
        return "sleeve"
    if side and "wrap" in said:
        return f"wrap skirt {side}"
    if side and "skirt" in said:
        return f"skirt {side}"
    return f"bodice {side}" if side else None


def usual_kind(name: str | None) -> PieceKind | None:
    """The usual piece of that name, or None."""
    return KINDS.get(name or "")


NOTCH_NAMES: dict[tuple[str, str], tuple[str, ...]] = {
    ("bodice front", "armhole"): ("front notch",), ("bodice back", "armhole"): ("back notch",),
    ("bodice front", "side seam"): ("side notch",), ("bodice back", "side seam"): ("side notch",),
    ("sleeve", "hem"): ("frill notch",), ("sleeve frill", "top"): ("frill notch",),
    ("skirt front", "side seam"): ("hip notch",), ("skirt back", "side seam"): ("hip notch",),
    ("wrap skirt front", "side seam"): ("hip notch",), ("wrap skirt back", "side seam"): ("hip notch",),
    ("wrap skirt front", "waist"): ("centre notch",),
    ("skirt front", "hem"): ("tier notch",), ("skirt back", "hem"): ("tier notch",),
    ("skirt tier", "top"): ("tier notch",),
    ("waistband", "waist"): ("right centre notch", "right side notch", "back notch", "left side notch",
                             "left centre notch"),
}
"""Names of notches by piece and edge, in the order of the edge on a piece of the usual hand."""

CORNER_NAMES: tuple[tuple[str, str, str], ...] = (
    ("shoulder", "neck", "neck point"), ("shoulder", "armhole", "shoulder tip"), ("armhole", "side seam", "underarm"),
    ("side seam", "waist", "side waist"), ("centre front", "waist", "centre waist"),
    ("centre back", "waist", "centre waist"), ("centre back", "neck", "nape"),
)
"""Landmarks that lie where two edges meet."""

NOTCH_LANDMARKS = {("cap", "shoulder point"): "shoulder point", ("waist", "centre notch"): "centre waist"}
"""Landmarks that a notch marks, by edge and name of the notch."""

LINE_NAMES: tuple[tuple[str, str], ...] = (
    ("lengthen or shorten", r"lengthen|shorten|verlängern|verkürzen|kürzen|allonger|raccourcir"),
    ("bust line", r"\bbust ?line|\bbust level|brustlinie|ligne de poitrine"),
    ("waist line", r"\bwaist ?line|\bwaist level|\bnatural waist|taillenlinie|ligne de taille"),
    ("hip line", r"\bhip ?line|\bhip level|hüftlinie|ligne de hanches"),
    ("biceps line", r"\bbiceps?\b|oberarmlinie"),
)
"""Names of inner lines, and the words by which they are known."""


def line_name(text: str) -> str | None:
    """The usual inner line that some words stand for, or None."""
    return next((name for name, pattern in LINE_NAMES if re.search(pattern, text, re.I)), None)
