"""What is kept of a body, a pattern, a cloth and a make; lengths in mm.

A document is small and plain. Results are not in it: they are computed again from it. Rows of a list carry an `id`, so
that one change can name its row whatever else happens to the list meanwhile.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from enum import StrEnum

from toilewright.workroom.cut_rows import AllowanceRow, CornerRow, ExtraRow, LayRow


class Kind(StrEnum):
    """The four kinds of things in a workroom."""

    BODY = "body"
    PATTERN = "pattern"
    CLOTH = "cloth"
    MAKE = "make"


@dataclass(frozen=True, slots=True)
class FileRef:
    """A file in the store.

    Attributes:
        sha: SHA-256 of its bytes, in hexadecimal digits; the key under which it is kept.
        name: as it was called when it came in.
        kind: media type, e.g. ``application/pdf``.
        size: bytes.
    """

    sha: str
    name: str
    kind: str
    size: int


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph or drawing she keeps with something."""

    id: str
    file: FileRef
    words: str = ""
    date: str = ""


@dataclass(frozen=True, slots=True)
class WishRow:
    """An alteration asked for.

    Attributes:
        name: an alteration's own name (never an alias), e.g. ``high round back``.
        amount: mm, signed as the alteration says; None to take it from the body against the piece.
        options: e.g. ``{"piece": "bodice back"}``.
        on: False keeps it in the list without making it.
        came_from: id of the toile of this make that asked for it, or "".
        spread: how far the amount may be off (mm), where a toile or several makes told it.
        makes: number of makes it was learned from, 0 for none.
    """

    id: str
    name: str
    amount: float | None = None
    options: dict[str, str] = field(default_factory=dict)
    on: bool = True
    note: str = ""
    came_from: str = ""
    spread: float | None = None
    makes: int = 0


@dataclass(frozen=True, slots=True)
class SeenRow:
    """One thing seen on a toile.

    Attributes:
        sign: name of a sign of :mod:`toilewright.fit.toile`.
        amount: the distance, pinch or opening (mm), or None when it was not measured.
        side: ``both``, ``left`` or ``right``.
    """

    id: str
    sign: str
    amount: float | None = None
    side: str = "both"


@dataclass(frozen=True, slots=True)
class ToileRow:
    """One toile of a make, as it was looked at.

    Attributes:
        date: ISO 8601 day.
    """

    id: str
    date: str
    seen: tuple[SeenRow, ...] = ()
    note: str = ""
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class LearnedRow:
    """What the toiles of one make ended in, for one alteration; kept with the body, whatever becomes of the make.

    Attributes:
        make: id of the make; title: as it was called then.
        date: ISO 8601 day on which it was learned.
        amount: all that its toiles asked for, the standing amount included (mm); spread: how far that may be off.
    """

    id: str
    make: str
    title: str
    date: str
    name: str
    amount: float
    spread: float
    options: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class TapeSheet:
    """What was measured on one day.

    Attributes:
        date: ISO 8601 day.
        measures, left, right: by ISO 8559-1 name, mm; degrees for the shoulder slope.
        waist_place: key of :data:`toilewright.body.tape.WAISTS`, or "".
        sure: questions to which she answered that it is right, by their key, with the day.
    """

    id: str
    date: str
    measures: dict[str, float] = field(default_factory=dict)
    left: dict[str, float] = field(default_factory=dict)
    right: dict[str, float] = field(default_factory=dict)
    waist_place: str = ""
    note: str = ""
    sure: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class BodyDoc:
    """One person.

    Attributes:
        unit: ``cm`` or ``in``, how she reads her tape.
        posture: notes in her own words.
        sheets: oldest first.
        alterations: the ones she always needs.
        learned: what the toiles of her makes ended in, oldest first; a new tape sheet leaves it as it is.
    """

    name: str
    unit: str = "cm"
    posture: tuple[str, ...] = ()
    sheets: tuple[TapeSheet, ...] = ()
    alterations: tuple[WishRow, ...] = ()
    note: str = ""
    learned: tuple[LearnedRow, ...] = ()


@dataclass(frozen=True, slots=True)
class TissueSheet:
    """What a tape says of tissue laid flat, for a pattern without a file.

    Attributes:
        garment: name of a kind of :mod:`toilewright.make.tissue_kinds`.
        unit: ``cm`` or ``in``, how she reads her tape.
        size: printed on the tissue, along whose lines the tape lies; "" until she says it.
        allowance: of the tissue beyond its seam lines (mm); 0 where it ends there, None until she says it.
        lengths: as read off the tape, by the name of the taking (mm; slopes in degrees).
        sizes, chart: the body chart of the envelope (mm), smallest size first.
        sure: lengths that she was asked about and that are right, by their question's key, with the day.
    """

    garment: str
    unit: str = "cm"
    size: str = ""
    allowance: float | None = None
    lengths: dict[str, float] = field(default_factory=dict)
    sizes: tuple[str, ...] = ()
    chart: dict[str, tuple[float, ...]] = field(default_factory=dict)
    sure: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class PatternDoc:
    """One bought pattern.

    Attributes:
        file: the file it was read from; None until one was dropped.
        labels: names of pieces, edges and seams as plain values (see :mod:`toilewright.make.keeping`), None as guessed.
        confirmed: she has looked the names through.
        tissue: what the tape says, where it goes by that and not by a file.
    """

    name: str
    file: FileRef | None = None
    labels: dict[str, object] | None = None
    confirmed: bool = False
    note: str = ""
    pictures: tuple[Picture, ...] = ()
    tissue: TissueSheet | None = None


@dataclass(frozen=True, slots=True)
class FlawRow:
    """A place of a cloth that nothing is cut from: a rectangle round the hole, the stain or the fade.

    Attributes:
        x, y: where it begins, from the cut end and from the near selvedge (mm).
        along, across: its size along and across the cloth (mm).
    """

    id: str
    x: float = 0.0
    y: float = 0.0
    along: float = 0.0
    across: float = 0.0


@dataclass(frozen=True, slots=True)
class ClothDoc:
    """One cloth on the shelf.

    Attributes:
        fibre: what it is made of, in her words ("cotton lawn").
        width, length: usable width, between the selvedges, and how much of it is there (mm), as it lies on the shelf.
        weight: grams per square metre.
        drape: one word of hers, such as "crisp", "fluid".
        washed: shrunk already, as it will be washed; then neither width nor length shrink any more.
        square: the sides (mm) of a square that she washed: ``before``, and afterwards ``along`` and ``across``.
        stretch_along, stretch_across: how far it gives, as a part of its length; None where she did not try.
        one_way: nap, pile or a print with a head and a foot.
        sided: right and wrong side differ.
        repeat_along, repeat_across: of its stripe, check or print (mm); 0 where nothing repeats.
        first_along, first_across: where the first main line lies, from the cut end and from the near selvedge (mm).
        border: depth of a border along the far selvedge (mm); 0 for none.
        flaws: places that nothing is cut from.
        outline: corners (x, y) of a remnant that is no rectangle (mm); empty for a rectangle.
        price: of one metre.
    """

    name: str
    fibre: str = ""
    width: float | None = None
    length: float | None = None
    weight: float | None = None
    drape: str = ""
    washed: bool = False
    note: str = ""
    pictures: tuple[Picture, ...] = ()
    square: dict[str, float] = field(default_factory=dict)
    stretch_along: float | None = None
    stretch_across: float | None = None
    one_way: bool = False
    sided: bool = True
    repeat_along: float = 0.0
    repeat_across: float = 0.0
    first_along: float = 0.0
    first_across: float = 0.0
    border: float = 0.0
    flaws: tuple[FlawRow, ...] = ()
    outline: tuple[tuple[float, float], ...] = ()
    price: float | None = None


@dataclass(frozen=True, slots=True)
class DiaryRow:
    """One entry of a make's diary.

    Attributes:
        kind: ``note``, ``made`` (finished), ``worked`` (what worked), ``change`` (to be changed next time) or ``worn``.
    """

    id: str
    date: str
    kind: str
    text: str = ""
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class MakeDoc:
    """One make: the recipe, what is settled of it, and its diary.

    Attributes:
        body, sheet: id of the body, and of one of its tape sheets ("" for the newest).
        pattern: id of the pattern.
        cloths: ids.
        size: ``auto``, a size's name, or "" when `sizes` says it by place.
        sizes: by place (bust, waist, hip), for a blend.
        ease: by place, ease she wants (mm).
        standing: make the body's own alterations first?
        without: names of standing alterations left out of this make.
        papers: which of :data:`toilewright.make.recipe.PAPERS` are printed.
        settled: by step, the day she settled it.
        started_from: id of the make it was begun from, or "".
        toiles: what was seen on each toile, first one first.
        print_toile: are the toile's pieces printed too?
        aside: keys of prescriptions that she has looked at and does not want.
        lays: what it is cut from, one row for each use.
        lay_with: ids of other makes that are cut in the same lay.
        lay_gap: between two pieces (mm); None to leave it to the lay.
        allowances: what is cut beyond the seam lines, where not as the pattern has it.
        extras: pieces that are cut beside the pattern's.
        corners: how the allowance is cut at corners, where not as the trade cuts them.
        notches: a :class:`toilewright.pattern.parts.NotchCut`, or "" to leave it to the pattern.
    """

    title: str
    body: str = ""
    sheet: str = ""
    pattern: str = ""
    cloths: tuple[str, ...] = ()
    size: str = "auto"
    sizes: dict[str, str] = field(default_factory=dict)
    ease: dict[str, float] = field(default_factory=dict)
    standing: bool = True
    without: tuple[str, ...] = ()
    alterations: tuple[WishRow, ...] = ()
    papers: tuple[str, ...] = ("a4",)
    settled: dict[str, str] = field(default_factory=dict)
    diary: tuple[DiaryRow, ...] = ()
    pictures: tuple[Picture, ...] = ()
    note: str = ""
    started_from: str = ""
    toiles: tuple[ToileRow, ...] = ()
    print_toile: bool = False
    aside: tuple[str, ...] = ()
    lays: tuple[LayRow, ...] = ()
    lay_with: tuple[str, ...] = ()
    lay_gap: float | None = None
    allowances: tuple[AllowanceRow, ...] = ()
    extras: tuple[ExtraRow, ...] = ()
    corners: tuple[CornerRow, ...] = ()
    notches: str = ""


Document = BodyDoc | PatternDoc | ClothDoc | MakeDoc

DOCUMENTS: dict[Kind, type[BodyDoc] | type[PatternDoc] | type[ClothDoc] | type[MakeDoc]] = {
    Kind.BODY: BodyDoc, Kind.PATTERN: PatternDoc, Kind.CLOTH: ClothDoc, Kind.MAKE: MakeDoc}


def name_of(document: Document) -> str:
    """What she calls a thing."""
    return document.title if isinstance(document, MakeDoc) else document.name


def new_id() -> str:
    """A short name for a new row or thing that nothing else has."""
    return secrets.token_hex(5)
