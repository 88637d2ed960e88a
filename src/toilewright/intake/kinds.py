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
        return not (self.strip or self.name.endswith(("facing", "yoke"))
                    or self.name.startswith(("wrap", "bodice side")))


WAIST, HEM = EdgeSpec("waist", 270, darts=True), EdgeSpec("hem", 270, kind=EdgeKind.HEM)
"""The lower edge of a bodice that ends at the waist, and of one that runs on below it."""


def _centre(side: str) -> EdgeSpec:
    return EdgeSpec(f"centre {side}", 180, "straight", fold=True,
                    kind=EdgeKind.OPENING if side == "back" else EdgeKind.SEAM)


def _bodice(side: str, low: EdgeSpec = WAIST) -> PieceKind:
    return PieceKind(f"bodice {side}", (
        _centre(side), low, EdgeSpec("side seam", 0, "straight", darts=side == "front"),
        EdgeSpec("armhole", 22, "hollow", darts=True), EdgeSpec("shoulder", 72, "straight", darts=True),
        EdgeSpec("neck", 138, "hollow", darts=True)))


def _centre_panel(side: str, low: EdgeSpec = WAIST) -> PieceKind:
    """The panel at the centre of a bodice with princess seams from the shoulder."""
    return PieceKind(f"bodice {side}", (
        _centre(side), low, EdgeSpec("princess seam", 0, notched=True, long=True), EdgeSpec("shoulder", 72, "straight"),
        EdgeSpec("neck", 138, "hollow", darts=True)))


def _side_panel(side: str, low: EdgeSpec = WAIST) -> PieceKind:
    return PieceKind(f"bodice side {side}", (
        EdgeSpec("princess seam", 172, "round", notched=True, long=True), low, EdgeSpec("side seam", 0, "straight"),
        EdgeSpec("armhole", 30, "hollow"), EdgeSpec("shoulder", 62, "straight")))


def _yoke(side: str) -> PieceKind:
    return PieceKind(f"{side} yoke", (
        _centre(side), EdgeSpec("yoke seam", 270), EdgeSpec("armhole", 8), EdgeSpec("shoulder", 72, "straight"),
        EdgeSpec("neck", 138, "hollow")))


def _trouser(side: str, crotch: float) -> PieceKind:
    return PieceKind(f"trouser {side}", (
        EdgeSpec("crotch seam", crotch, "hollow"), EdgeSpec("inseam", 185, long=True),
        EdgeSpec("hem", 270, kind=EdgeKind.HEM), EdgeSpec("side seam", 0, long=True),
        EdgeSpec("waist", 88, "level", darts=True)))


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
    _bodice("front"), _bodice("back"), _side_panel("front"), _side_panel("back"), _yoke("back"), _yoke("front"),
    _trouser("front", 171), _trouser("back", 157),
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
    _strip("collar", EdgeSpec("neck", 270, long=True, notched=True), EdgeSpec("right end", 0, "straight", False),
           EdgeSpec("top", 90, long=True, fold=True), EdgeSpec("left end", 180, "straight", False, fold=True)),
    _strip("waist tie", EdgeSpec("long edge", 270, "straight", True), EdgeSpec("end", 0, "straight", False),
           EdgeSpec("fold", 90, "straight", True, fold=True), EdgeSpec("band end", 180, "straight", False)),
)}
"""The usual pieces by name."""

_BELOW_WAIST: tuple[PieceKind, ...] = (
    _bodice("front", HEM), _bodice("back", HEM), _centre_panel("front", HEM), _centre_panel("back", HEM),
    _side_panel("front", HEM), _side_panel("back", HEM))
ALL_SHAPES: tuple[PieceKind, ...] = (*KINDS.values(), _centre_panel("front"), _centre_panel("back"))
"""All shapes of usual pieces, but for those of bodices that run on below the waist."""

UNFOLDED = {("waist tie", "fold"): "other long edge", ("skirt tier", "centre front"): "other side seam"}
"""Names for edges that are called after the fold they usually lie on, when they do not lie on one."""

_FRONT = r"\bfronts?\b|vorder|vorne|\bdevant\b|\bvoorpand\b|\bdelantero\b"
_BACK = r"\bbacks?\b|rücken|ruecken|rückteil|hinter|\bdos\b|\bachterpand\b|\bespalda\b"
_WORDS: tuple[tuple[str, str], ...] = (
    ("trouser", r"\btrousers?\b|\bpants?\b|\bslacks\b|\bjeans\b|\bshorts\b|\b(?:vorder|hinter)?hosen?\b|"
                r"\bpantalon\b|\bbroek\b|\bpantal[oó]n\b"),
    ("collar", r"\bcollars?\b|kragen|\bkraag\b|\bcuello\b"),
    ("yoke", r"\byokes?\b|\bpasse\b|empiècement"),
    ("side", r"\bside[ -](?:front|back)\b|\b(?:front|back)[ -]side\b|\bside panel|seiten?teil|\bseitliche"),
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
_ELSE = re.compile(r"\bcuff|manschette|\bpocket|tasche|\bplacket|\bloop|\bbinding|\blining\b|futter|\bfly\b|"
                   r"\binterfacing\b|armhole facing|\bgusset|\bhood|passepoil|hosenträger", re.I)


def kind_of_name(text: str) -> str | None:
    """The usual piece that a printed name stands for, or None.

    >>> kind_of_name("front bodice"), kind_of_name("Rock Vorderteil"), kind_of_name("pocket")
    ('bodice front', 'skirt front', None)
    """
    if _ELSE.search(text):
        return None
    said = {word for word, pattern in _WORDS if re.search(pattern, text, re.I)}
    side = "front" if "front" in said else "back" if "back" in said else None
    if "facing" in said:
        return f"{side} neck facing" if side and not said & {"trouser", "side", "skirt", "yoke"} else None
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
    if "collar" in said:
        return "collar"
    if "trouser" in said:
        return f"trouser {side}" if side and not said & {"side", "yoke"} else None
    if "yoke" in said:
        return None if "skirt" in said else f"{side or 'back'} yoke"
    if "side" in said:
        return f"bodice side {side}" if side and "skirt" not in said else None
    if side and "wrap" in said:
        return f"wrap skirt {side}"
    if side and "skirt" in said:
        return f"skirt {side}"
    return f"bodice {side}" if side else None


def shapes_of(name: str | None, below_waist: bool = False, panels: bool = True) -> tuple[PieceKind, ...]:
    """The shapes that a usual piece of that name may have, the most usual one first.

    Args:
        below_waist: a bodice that shows its waist, or its hip, well inside runs on to a hem.
        panels: the sheet shows side panels; without one no front or back is the panel at the centre.
    """
    possible = [k for k in (*_BELOW_WAIST, *ALL_SHAPES) if k.name == name
                and (panels or "princess seam" not in {e.name for e in k.edges})]
    long = tuple(k for k in possible if k in _BELOW_WAIST) if below_waist else ()
    return long or tuple(k for k in possible if k not in _BELOW_WAIST)


NOTCH_NAMES: dict[tuple[str, str], tuple[str, ...]] = {
    ("bodice front", "armhole"): ("front notch",), ("bodice back", "armhole"): ("back notch",),
    ("bodice front", "side seam"): ("side notch",), ("bodice back", "side seam"): ("side notch",),
    ("bodice side front", "armhole"): ("front notch",), ("bodice side back", "armhole"): ("back notch",),
    ("bodice side front", "side seam"): ("side notch",), ("bodice side back", "side seam"): ("side notch",),
    ("bodice front", "princess seam"): ("lower bust notch", "bust notch", "upper bust notch"),
    ("bodice side front", "princess seam"): ("upper bust notch", "bust notch", "lower bust notch"),
    ("bodice back", "princess seam"): ("lower blade notch", "blade notch", "upper blade notch"),
    ("bodice side back", "princess seam"): ("upper blade notch", "blade notch", "lower blade notch"),
    ("trouser front", "crotch seam"): ("crotch notch",), ("trouser back", "crotch seam"): ("crotch notch",),
    ("trouser front", "inseam"): ("knee notch",), ("trouser back", "inseam"): ("knee notch",),
    ("trouser front", "side seam"): ("side knee notch", "hip notch"),
    ("trouser back", "side seam"): ("side knee notch", "hip notch"),
    ("collar", "neck"): ("left shoulder notch", "centre front notch", "right shoulder notch"),
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
    ("crotch seam", "waist", "centre waist"), ("crotch seam", "inseam", "crotch point"),
)
"""Landmarks that lie where two edges meet."""

NOTCH_LANDMARKS = {("cap", "shoulder point"): "shoulder point", ("waist", "centre notch"): "centre waist",
                   ("princess seam", "bust notch"): "bust point"}
"""Landmarks that a notch marks, by edge and name of the notch."""

LINE_LANDMARKS = {("waist line", "centre front"): "centre waist", ("waist line", "centre back"): "centre waist",
                  ("waist line", "side seam"): "side waist"}
"""Landmarks where an inner line meets an edge."""

LINE_NAMES: tuple[tuple[str, str], ...] = (
    ("lengthen or shorten", r"lengthen|shorten|verlängern|verkürzen|kürzen|allonger|raccourcir"),
    ("bust line", r"\bbust ?line|\bbust level|brustlinie|ligne de poitrine"),
    ("waist line", r"\bwaist ?line|\bwaist level|\bnatural waist|taillenlinie|ligne de taille"),
    ("high hip line", r"\bhigh hip|hohe hüfte|petites hanches"),
    ("hip line", r"\bhip ?line|\bhip level|hüftlinie|ligne de hanches"),
    ("abdomen line", r"\babdomen|\btummy"),
    ("crotch line", r"\bcrotch ?line|\bcrotch level|\brise line|schrittlinie|entrejambe"),
    ("thigh line", r"\bthigh|oberschenkellinie"),
    ("knee line", r"\bknee|knielinie|ligne d[ue] genou"),
    ("calf line", r"\bcalf|wadenlinie|mollet"),
    ("elbow line", r"\belbow|ellbogenlinie|ellenbogenlinie|ligne d[ue] coude"),
    ("upper arm line", r"\bupper arm"),
    ("biceps line", r"\bbiceps?\b|oberarmlinie"),
)
"""Names of inner lines, and the words by which they are known."""


def line_name(text: str) -> str | None:
    """The usual inner line that some words stand for, or None."""
    return next((name for name, pattern in LINE_NAMES if re.search(pattern, text, re.I)), None)
