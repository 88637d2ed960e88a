"""Kinds of garment that a flat sheet may tell of: the block that stands in, and what moves which length."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace

from toilewright.blocks.bodice import draft_bodice
from toilewright.blocks.bodice_lines import BodiceEase
from toilewright.blocks.chart import SIZES, WHOLE_CHART
from toilewright.blocks.choir_trousers import SEAMS as TROUSER_SEAMS
from toilewright.blocks.choir_tunic import SEAMS as TUNIC_SEAMS
from toilewright.blocks.concert import SEAMS as DRESS_SEAMS
from toilewright.blocks.draft import Measures
from toilewright.blocks.long_sleeve import LongSleeveEase, draft_long_sleeve
from toilewright.blocks.plain_bodice import draft_plain_bodice
from toilewright.blocks.princess import draft_princess
from toilewright.blocks.princess_dress import SEAMS as PRINCESS_SEAMS
from toilewright.blocks.skirt import SkirtEase, draft_skirt
from toilewright.blocks.sleeve import SleeveEase, draft_sleeve
from toilewright.blocks.trousers import TrouserEase, draft_trousers
from toilewright.blocks.wrap_skirt import WrapEase, draft_wrap_skirt
from toilewright.errors import NameUnknown
from toilewright.fit.flat.lower import KNEE_BELOW_WAIST
from toilewright.geometry.path import Path
from toilewright.pattern.garment import Garment, Seam
from toilewright.pattern.piece import Piece
from toilewright.pattern.walk import walk

SHAPE: Mapping[str, float] = {
    "back shoulder ease": 8.0, "cap ease": 25.0, "skirt share": 0.50, "skirt flare": 7.0,
    "wrap share": 0.64, "overlap share": 0.38, "overlap less at hip": 0.0, "overlap less at knee": 0.0,
    "leg hem share": 0.91,
}
"""What the drafts ask for beside the body's measures, as our own blocks have it (mm, shares, degrees)."""

SLEEVE = ("upper arm", "sleeve length", "wrist", "sleeve head")
"""Flat lengths of a sleeve: where none was taken, the stand-in has none."""

_SLACK = 4.0
"""mm; bought tissue sews together, so a seam of its stand-in may be eased by what it has, give or take this."""


@dataclass(frozen=True, slots=True)
class Driver:
    """Which measure of the draft moves which flat length.

    Attributes:
        flat: names of flat lengths, added up.
        moves: the measure or shape, or several that move together.
        slope: about how much the flat length grows by it.
        instead: drivers of another flat length that serve as well; this one is left out where they were taken.
    """

    flat: tuple[str, ...]
    moves: tuple[str, ...]
    slope: float
    instead: tuple[str, ...] = ()


@dataclass(frozen=True)
class Kind:
    """One kind of garment.

    Attributes:
        draft: a garment from measures and shape, with the pieces for the flat lengths that were taken.
        drivers: in the order in which they are preferred.
        key: the flat length by which the nearest size of our own chart is found, and the measure it goes with.
    """

    name: str
    aliases: tuple[str, ...]
    draft: Callable[[Measures, Collection[str]], Garment]
    drivers: tuple[Driver, ...]
    key: tuple[str, str]

    def block(self, size: str = SIZES[4]) -> Garment:
        """Our own block of that kind, on which is shown where the tape runs."""
        return self.draft(start_of(float(SIZES.index(size))), SLEEVE)


def start_of(at: float) -> dict[str, float]:
    """Measures and shape between two sizes of our chart; `at` counts sizes from 0 and may lie beyond either end."""
    low = min(max(int(at // 1), 0), len(SIZES) - 2)
    share = at - low
    return {**{name: row[low] + share * (row[low + 1] - row[low]) for name, row in WHOLE_CHART.rows}, **SHAPE}


def _bodice(values: Measures) -> tuple[Piece, Piece]:
    return draft_bodice(values, BodiceEase(back_shoulder=values["back shoulder ease"]))


def _sleeve(values: Measures, front: Piece, back: Piece, taken: Collection[str]) -> tuple[Piece, ...]:
    if not set(SLEEVE) & set(taken):
        return ()
    if "wrist" in taken:
        return (draft_long_sleeve(values, front, back, LongSleeveEase(SleeveEase(cap=values["cap ease"]))),)
    return (draft_sleeve(values, front, back, SleeveEase(cap=values["cap ease"])),)


def _skirts(values: Measures, front: Piece, back: Piece) -> tuple[Piece, Piece]:
    ease = SkirtEase(length=values["skirt share"], flare=values["skirt flare"])
    return draft_skirt(values, front, back, ease)


def _sewn(*pieces: Piece, seams: tuple[Seam, ...] = DRESS_SEAMS) -> Garment:
    """The pieces with those seams for which all are there, each eased as it happens to be."""
    names = {p.name for p in pieces}
    return eased(Garment(pieces, tuple(s for s in seams if all(r.piece in names for r in (*s.a, *s.b)))))


def eased(garment: Garment) -> Garment:
    """The same with every seam allowed the ease that it has."""
    def allowed(seam: Seam, difference: float) -> Seam:
        return replace(seam, ease=(difference - _SLACK, difference + _SLACK)) if seam.ratio is None else seam
    walks = walk(garment)
    return replace(garment, seams=tuple(allowed(s, w.difference) for s, w in zip(garment.seams, walks, strict=True)))


def _dress(values: Measures, taken: Collection[str]) -> Garment:
    front, back = _bodice(values)
    return _sewn(front, back, *_sleeve(values, front, back, taken), *_skirts(values, front, back))


def _bodice_alone(values: Measures, taken: Collection[str]) -> Garment:
    front, back = _bodice(values)
    return _sewn(front, back, *_sleeve(values, front, back, taken))


def _princess(values: Measures, taken: Collection[str]) -> Garment:
    fitted = _bodice(values)
    front, side_front, back, side_back = draft_princess(*fitted)
    sleeve = _sleeve(values, side_front, side_back, taken)
    return _sewn(front, side_front, back, side_back, *sleeve, *_skirts(values, *fitted), seams=PRINCESS_SEAMS)


def _tunic(values: Measures, taken: Collection[str]) -> Garment:
    front, back = draft_plain_bodice(values)
    return _sewn(front, back, *_sleeve(values, front, back, taken), seams=TUNIC_SEAMS)


def _trousers(values: Measures, taken: Collection[str]) -> Garment:
    return _sewn(*draft_trousers(values, TrouserEase(hem=values["leg hem share"])), seams=TROUSER_SEAMS)


def _skirt(values: Measures, taken: Collection[str]) -> Garment:
    return _sewn(*_skirts(values, *_bodice(values)))


def _wrap(values: Measures, taken: Collection[str]) -> Garment:
    ease = WrapEase(overlap=values["overlap share"], length=values["wrap share"])
    front, back = draft_wrap_skirt(values, ease)
    return _sewn(_slanting(front, values), back)


def _slanting(front: Piece, values: Measures) -> Piece:
    """The wrap's end drawn in by as much as the overlap is less at hip and knee than at the waist."""
    hip, knee = values["overlap less at hip"], values["overlap less at knee"]
    edge, hem = front.edge("wrap edge"), front.edge("hem")
    top, low = edge.path.start, edge.path.end
    hip_deep, knee_deep = values["waist to hip"], max(KNEE_BELOW_WAIST, values["waist to hip"] + 50.0)
    at_hem = hip + (knee - hip) * (top.imag - low.imag - hip_deep) / (knee_deep - hip_deep)
    foot = low + at_hem
    path = Path.polyline((top, complex(top.real + hip, top.imag - hip_deep), foot))
    nodes, handles = hem.path.nodes, hem.path.handles
    return replace(front, edges=tuple(
        replace(e, path=path) if e is edge else replace(e, path=Path((foot, *nodes[1:]), handles)) if e is hem else e
        for e in front.edges))


_TOP = (
    Driver(("bust",), ("bust girth",), 1.0),
    Driver(("waist",), ("waist girth",), 1.0),
    Driver(("centre back length",), ("back neck point to waist",), 1.0),
    Driver(("back length",), ("neck shoulder point to waist back",), 1.0),
    Driver(("front length",), ("neck shoulder point to waist",), 1.0),
    Driver(("neck point to bust point",), ("neck shoulder point to bust point",), 1.0),
    Driver(("neck point to dart point",), ("neck shoulder point to bust point",), 1.0, ("neck point to bust point",)),
    Driver(("bust point to centre",), ("bust point width",), 0.5),
    Driver(("dart point to centre",), ("bust point width",), 0.5, ("bust point to centre",)),
    Driver(("shoulder front",), ("shoulder length",), 1.0),
    Driver(("shoulder back",), ("back shoulder ease",), 1.0),
    Driver(("shoulder slope front",), ("shoulder slope",), 1.0),
    Driver(("across back",), ("across back width",), 0.5),
    Driver(("across chest",), ("across front width",), 0.5),
    Driver(("armhole depth",), ("armscye depth",), 1.0),
    Driver(("armhole front", "armhole back"), ("armscye depth",), 2.0, ("armhole depth",)),
    Driver(("armhole back",), ("armscye depth",), 1.0, ("armhole depth", "armhole front")),
    Driver(("neck front", "neck back"), ("neck base girth",), 0.55),
    Driver(("neck width",), ("neck base girth",), 0.19, ("neck front",)),
    Driver(("upper arm",), ("upper arm girth",), 1.14),
    Driver(("sleeve head",), ("cap ease",), 1.0),
)
_LOOSE = tuple(d for d in _TOP if d.flat not in (("waist",), ("shoulder back",)))
_ARM = (Driver(("sleeve length",), ("arm length",), 0.7), Driver(("wrist",), ("wrist girth",), 1.0))
_SKIRT = (
    Driver(("hip",), ("hip girth",), 1.0),
    Driver(("waist to hip",), ("waist to hip",), 1.0),
    Driver(("skirt length",), ("skirt share",), 1030.0),
    Driver(("hem width",), ("skirt flare",), 30.0),
)
_WRAP = (
    Driver(("waist, wrap skirt",), ("waist girth",), 1.0),
    Driver(("hip, wrap skirt",), ("hip girth",), 1.0),
    Driver(("waist to hip",), ("waist to hip",), 1.0),
    Driver(("skirt length",), ("wrap share",), 1030.0),
    Driver(("overlap at waist",), ("overlap share",), 770.0),
    Driver(("overlap at hip",), ("overlap less at hip",), -2.0),
    Driver(("overlap at knee",), ("overlap less at knee",), -2.0),
)

_LEGS = (
    Driver(("waist",), ("waist girth",), 1.0),
    Driver(("hip",), ("hip girth",), 1.0),
    Driver(("waist to hip",), ("waist to hip",), 1.0),
    Driver(("crotch depth",), ("crotch depth",), 1.0),
    Driver(("crotch length front", "crotch length back"), ("total crotch length",), 1.0),
    Driver(("thigh",), ("thigh girth",), 1.0),
    Driver(("knee",), ("knee girth",), 1.0),
    Driver(("hem width",), ("leg hem share",), 480.0),
    Driver(("outside leg",), ("waist height",), 1.0),
    Driver(("inside leg",), ("waist height",), 1.0, ("outside leg",)),
)

KINDS = (
    Kind("dress", ("frock", "gown"), _dress, (*_TOP, *_ARM, *_SKIRT), ("bust", "bust girth")),
    Kind("bodice", ("blouse", "top", "shirt"), _bodice_alone, (*_TOP, *_ARM), ("bust", "bust girth")),
    Kind("princess dress", ("dress with princess seams", "princess seams"), _princess, (*_TOP, *_ARM, *_SKIRT),
         ("bust", "bust girth")),
    Kind("tunic", ("dartless bodice", "smock", "loose blouse"), _tunic, (*_LOOSE, *_ARM, *_SKIRT[:1]),
         ("bust", "bust girth")),
    Kind("trousers", ("pants", "slacks"), _trousers, _LEGS, ("hip", "hip girth")),
    Kind("skirt", (), _skirt, (*_SKIRT, Driver(("waist",), ("waist girth",), 1.0)), ("hip", "hip girth")),
    Kind("wrap skirt", ("wrap", "wrapped skirt"), _wrap, _WRAP, ("hip, wrap skirt", "hip girth")),
)
"""Every kind known here."""


def find_kind(name: str, where: str) -> Kind:
    """The kind of that name or alias.

    Raises:
        NameUnknown: there is none (the nearest is offered).
    """
    plain = " ".join(name.lower().replace("_", " ").replace("-", " ").split())
    for kind in KINDS:
        if plain in (kind.name, *kind.aliases):
            return kind
    raise NameUnknown.among("kind of garment", name, [k.name for k in KINDS], where)
