"""From the altered pieces to all that is cut: allowances and corners first, then the extra pieces, in her order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from toilewright.cutting.allowing import with_allowances
from toilewright.cutting.extra import Built, find_kind
from toilewright.cutting.extra.strips import WIDTH_OF_CLOTH
from toilewright.errors import Finding, GeometryError, InputError, Severity, ToilewrightError
from toilewright.make.allowed import unheard
from toilewright.make.cloth_wish import ClothWish, cut_from
from toilewright.make.recipe import Make
from toilewright.make.recipe_extra import ExtraWish
from toilewright.pattern.garment import Garment
from toilewright.pattern.walk import walk


@dataclass(frozen=True, slots=True)
class Extra:
    """One extra that was made: what was asked, and what came of it."""

    wish: ExtraWish
    built: Built


@dataclass(frozen=True, slots=True)
class Finished:
    """All that is cut.

    Attributes:
        extras: in the order in which they were asked.
        whole: the garment as if nothing had been divided by a join.
    """

    garment: Garment
    extras: tuple[Extra, ...]
    findings: tuple[Finding, ...]
    whole: Garment


def finish(garment: Garment, make: Make) -> tuple[Garment, tuple[Finding, ...]]:
    """The altered garment as it is cut, and what deserves a look.

    Raises:
        InputError: an allowance, a corner or an extra piece that cannot be made, said with its place.
    """
    done = finished(garment, make)
    return done.garment, done.findings


def finished(garment: Garment, make: Make) -> Finished:
    """The same, with the order of work and the figures of each extra.

    Raises:
        InputError: an allowance, a corner or an extra piece that cannot be made, said with its place.
    """
    unit = make.unit or "cm"
    garment = with_allowances(garment, make.allowances, make.corners, make.notches, unit)
    whole = garment
    extras: list[Extra] = []
    findings: list[Finding] = []
    for number, wish in enumerate(make.extras, 1):
        try:
            built = find_kind(wish.kind).build(garment, _options(wish, make.cloths))
            built = _from_her_cloth(built, make.cloths)
            before, garment = garment, built.put_into(garment)
        except GeometryError as problem:
            raise InputError(f'Extra {number}, "{wish.kind}", cannot be drawn on these pieces: {problem}') from None
        except ToilewrightError as problem:
            raise type(problem)(f'Extra {number}, "{wish.kind}": {problem}') from None
        whole = whole if built.replaced else built.put_into(whole)
        extras.append(Extra(wish, built))
        findings += [*built.worked.findings, *_unsewn(before, garment)]
    return Finished(garment, tuple(extras), (*findings, *unheard(
        own_of(whole, extras), deciders(extras), make.allowances, unit)), whole)


def own_of(whole: Garment, extras: Sequence[Extra]) -> Garment:
    """The pieces that are the pattern's own, without its seams.

    Args:
        whole: all that is cut, before anything was divided.
    """
    extra = {piece.name for one in extras if not one.built.replaced for piece in one.built.pieces}
    return replace(whole, pieces=tuple(p for p in whole.pieces if p.name not in extra), seams=())


def deciders(extras: Sequence[Extra]) -> dict[tuple[str, str], str]:
    """By (piece, edge) the extra, by its name, that says itself how far the cloth goes on beyond that edge."""
    return {edge: one.built.pieces[0].name if one.built.pieces else one.wish.kind
            for one in extras for edge in one.built.decides}


def _options(wish: ExtraWish, cloths: Sequence[ClothWish]) -> dict[str, object]:
    """Its options; the width of the cloth is that of the make, where she did not say another."""
    options = dict(wish.options)
    width = WIDTH_OF_CLOTH.name
    if options.get(width) == WIDTH_OF_CLOTH.default:
        use = options.get("cloth", "self")
        cloth = next((c for c in cloths if c.use == use and c.bought_width is not None), None)
        if cloth is not None:
            options[width] = cloth.cloth.width
    return options


def _from_her_cloth(built: Built, cloths: Sequence[ClothWish]) -> Built:
    """Parts of a piece for which she chose a cloth are cut from that cloth."""
    for whole in built.replaced:
        use = cut_from(cloths, whole.name, whole.cut.cloth)
        built = replace(built, pieces=tuple(replace(p, cut=replace(p.cut, cloth=use)) for p in built.pieces))
    return built


def _unsewn(before: Garment, after: Garment) -> list[Finding]:
    """New seams that do not sew: nothing is printed then."""
    fresh = Garment(after.pieces, after.seams[len(before.seams):])
    return [Finding("does-not-sew", f'The seam "{w.seam}" of an extra piece does not sew: {w.sides[0]} measures '
                    f"{w.length_a / 10:.1f} cm, {w.sides[1]} {w.length_b / 10:.1f} cm; {w.note}.", Severity.STOP,
                    asked=w.difference) for w in walk(fresh) if not w.sews]
