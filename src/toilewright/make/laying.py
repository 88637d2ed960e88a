"""One or several makes laid on their cloths: one lay for each cloth that pieces are cut from."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from toilewright.cutting.cloth import Cloth
from toilewright.cutting.lay.arrange import Pack, Search, Stop, Tell, arrange
from toilewright.cutting.lay.drafts import drafts
from toilewright.cutting.lay.matching import matching_of
from toilewright.cutting.lay.pieces import cut_pieces
from toilewright.cutting.lay.plan import CutPiece, Lay
from toilewright.errors import InputError, NameUnknown, SewError
from toilewright.make.cloth_wish import ClothWish, check_pieces, cut_from
from toilewright.make.deliver import note_on_pieces, stops_of
from toilewright.make.joining import Work, joined, way_out
from toilewright.make.outcome import Outcome, run_make
from toilewright.make.recipe import read_make
from toilewright.make.recipe_cloth import read_cloth
from toilewright.pattern.garment import Garment
from toilewright.units import parse_length, show_both

SELF = "self"

LONGEST_SEARCH = 3600.0
"""seconds; nobody waits longer in front of a table (our own bound)."""


@dataclass(frozen=True, slots=True)
class Laying:
    """The lays of one cutting-out.

    Attributes:
        lays: one for each cloth, the self cloth first.
        title: of the make, or of all of them.
        unit: in which lengths are shown.
        garments: (make, its pieces), for drawings.
        notes: (make, what stands on its pieces): the size, and for whom.
    """

    lays: tuple[Lay, ...]
    title: str
    unit: str
    garments: tuple[tuple[str, Garment], ...] = ()
    notes: tuple[tuple[str, str], ...] = ()


def lay_make(make_files: Sequence[str | os.PathLike[str]], cloth_name: str | None = None, width: str | None = None,
             fold: str | None = None, seconds: float = 10.0, seed: int = 0, tell: Tell | None = None,
             stop: Stop | None = None, pack: Pack | None = None) -> Laying:
    """Make files made up, and their pieces laid.

    Args:
        make_files: the first one says which cloth and how; those that it names below ``[lay]`` are added.
        cloth_name: only this cloth; None for all.
        width, fold: as written, in place of what the make file says of the self cloth (or of `cloth_name`).
        seconds: for all lays together.
        tell: told the length of the lay that is searched on, and the seconds gone.
        pack: the search; None for the usual one.

    Raises:
        InputError: an entry that cannot be used, a piece that does not fit, a cloth too short.
        SewError: the pieces would not sew together.
    """
    files = all_files(make_files)
    return lay_outcomes([run_make(file) for file in files], cloth_name, width, fold, seconds, seed, tell, stop, pack)


def lay_outcomes(outcomes: Sequence[Outcome], cloth_name: str | None = None, width: str | None = None,
                 fold: str | None = None, seconds: float = 10.0, seed: int = 0, tell: Tell | None = None,
                 stop: Stop | None = None, pack: Pack | None = None) -> Laying:
    """As :func:`lay_make`, from makes that are computed already; the first one says which cloth and how."""
    if not 0.0 <= seconds <= LONGEST_SEARCH:
        raise InputError(f"{seconds:g} seconds is no time to search in; give 0 to {LONGEST_SEARCH:g}, such as 10.")
    unit = outcomes[0].sized.unit
    works = {w.wish.use: w for w in works_of(outcomes)}
    if cloth_name is not None and cloth_name not in works:
        raise NameUnknown.among("cloth", cloth_name, works, "this make")
    chosen = cloth_name or next(iter(works))
    works[chosen] = replace(works[chosen], wish=changed(works[chosen].wish, width, fold, unit))
    if cloth_name is not None:
        works = {cloth_name: works[cloth_name]}
    garments = garments_of(outcomes)
    for work in works.values():  # a piece that is too wide for the last cloth is told before the first is searched
        _check_width(work, garments)
    shares = _shares(works, seconds)
    gap = outcomes[0].sized.make.lay.gap or 0.0
    search = Search(pack or usual_pack(), seconds, seed, tell, stop)
    lays = tuple(lay_work(work, replace(search, seconds=shares[name]), gap, garments) for name, work in works.items())
    title = " and ".join(dict.fromkeys(o.sized.make.title for o in outcomes))
    return Laying(lays, title, unit, garments, notes_of(outcomes))


def lay_work(work: Work, search: Search, gap: float = 0.0,
             garments: Sequence[tuple[str, Garment]] = ()) -> Lay:
    """The pieces of one cloth laid on it.

    Args:
        garments: (make, its pieces), for the seams at which stripes meet.

    Raises:
        InputError: a piece that does not fit, or a cloth too short.
    """
    cloth = work.wish.cloth
    matching = matching_of(cloth, work.wish.match, work.pieces, garments)
    lay = arrange(work.pieces, cloth, search, gap=gap, free_fold=work.wish.fold is None, matching=matching)
    unsaid = work.wish.bought_width is None and cloth.outline is None
    return replace(lay, notes=(*lay.notes, *_width_taken(cloth))) if unsaid else lay


def works_of(outcomes: Sequence[Outcome]) -> tuple[Work, ...]:
    """What there is to lay on each cloth, in the order of the make file, cloths that it does not name last.

    Raises:
        SewError: the pieces would not sew together.
        InputError: a pattern that was taken off tissue with a tape; a cloth that names a piece that is not there.
    """
    for outcome in outcomes:
        _must_be_cut(outcome)
    wishes = outcomes[0].sized.make.cloths
    pieces: list[CutPiece] = []
    for name, outcome in zip(names_of(outcomes), outcomes, strict=True):
        pieces += cut_pieces(outcome.altered.garment, name)
    check_pieces(wishes, [*(p.name for p in pieces), *(p.name for o in outcomes for p in o.whole.pieces)])
    by_cloth: dict[str, list[CutPiece]] = {}
    for piece in pieces:
        use = cut_from(wishes, piece.name, piece.cloth)
        by_cloth.setdefault(use, []).append(replace(piece, cloth=use))
    order = [w.use for w in wishes] + [SELF, *by_cloth]
    by_use = {w.use: w for w in wishes}
    return tuple(Work(by_use.get(use) or ClothWish(Cloth(use)), tuple(by_cloth[use]))
                 for use in dict.fromkeys(order) if use in by_cloth)


def names_of(outcomes: Sequence[Outcome]) -> tuple[str, ...]:
    """What pieces carry to tell several makes apart: their titles, numbered where two are alike; nothing for one."""
    if len(outcomes) == 1:
        return ("",)
    titles = [o.sized.make.title for o in outcomes]
    return tuple(title if titles.count(title) == 1 else f"{title} ({titles[:k + 1].count(title)})"
                 for k, title in enumerate(titles))


def garments_of(outcomes: Sequence[Outcome]) -> tuple[tuple[str, Garment], ...]:
    """(make, its pieces as they are cut), for the seams at which stripes meet, and for drawings."""
    return tuple(zip(names_of(outcomes), (o.altered.garment for o in outcomes), strict=True))


def notes_of(outcomes: Sequence[Outcome]) -> tuple[tuple[str, str], ...]:
    """(make, what stands on its pieces)."""
    return tuple(zip(names_of(outcomes), (note_on_pieces(o.sized) for o in outcomes), strict=True))


def changed(wish: ClothWish, width: str | None, fold: str | None, unit: str) -> ClothWish:
    """A wish with another usable width and another way to fold, as written.

    Raises:
        InputError: they cannot be read, or do not go together.
    """
    cloth = wish.cloth
    if width:
        cloth = _of_width(cloth, parse_length(width, unit))
        wish = replace(wish, cloth=cloth, bought_width=cloth.width)
    if not fold:
        return wish
    row = {"width": f"{cloth.width} mm", "selvedge": "0 mm", "washed": True, "fold": fold}
    read = read_cloth(row, unit, "this command", wish.use)
    return replace(wish, cloth=replace(cloth, fold=read.cloth.fold, fold_depth=read.cloth.fold_depth), fold=read.fold)


def usual_pack() -> Pack:
    """The search that is used when none is given."""
    from toilewright.packing.solve import pack

    return pack


# -- helpers ----------------------------------------------------------------------------------------


def all_files(make_files: Sequence[str | os.PathLike[str]]) -> list[Path]:
    """The files given, and those that the first one is to be laid with, each once."""
    files = [Path(f) for f in make_files]
    if not files:
        raise InputError("No make file was given to lay.")
    others = read_make(files[0]).lay.others
    seen: dict[Path, Path] = {}
    for file in (*files, *others):
        seen.setdefault(file.resolve(), file)
    return list(seen.values())


def _must_be_cut(outcome: Outcome) -> None:
    title = outcome.sized.make.title
    if outcome.sized.reading.by_tape:
        raise InputError(f'"{title}" is made from tissue that was measured with a tape, so the shapes of its pieces '
                         "are not known and cannot be laid; lay out the tissue itself.")
    if stops := stops_of(outcome):
        raise SewError(f'"{title}" is not laid, because its pieces would not sew together. '
                       + " ".join(f.text for f in stops))


def _width_taken(cloth: Cloth) -> tuple[str, ...]:
    return (f'How wide the cloth "{cloth.name}" is was not said; {show_both(cloth.width)} between its selvedges was '
            "taken.",)


def _of_width(cloth: Cloth, width: float) -> Cloth:
    """Another width; what was said of a remnant must still lie within it."""
    if cloth.outline is not None:
        raise InputError(f'The cloth "{cloth.name}" is a remnant with an outline of its own, so another width cannot '
                         "be taken for it; leave the width out.")
    return replace(cloth, width=width)


def _check_width(work: Work, garments: Sequence[tuple[str, Garment]]) -> None:
    """Raises InputError where a piece goes into the cloth in no way, with what to do where a join would help."""
    if work.pieces:
        matching = matching_of(work.wish.cloth, work.wish.match, work.pieces, garments)
        try:
            drafts(work.pieces, work.wish.cloth, matching, work.wish.fold is None)
        except InputError as problem:
            if (found := joined(work, tuple(garments))) is None:
                raise
            raise type(problem)(f"{problem} {way_out(found[2])}") from None


def _shares(works: Mapping[str, Work], seconds: float) -> dict[str, float]:
    """The time divided among the cloths, more for those with many pieces."""
    weights = {name: sum(p.count for p in work.pieces) ** 1.5 for name, work in works.items()}
    total = sum(weights.values())
    return {name: seconds * weight / total for name, weight in weights.items()}
