"""What must hold of every alteration on every pattern that has place for it, drafted or read from a file."""

import cmath
import re
import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path as File

import pypdfium2
import pytest
from alter_kit import altered, assert_whole, gap, made, other_hand
from canon_kit import BLOCKS, SIZE, amounts_of, asked_of, block, tried

import toilewright.app
from toilewright.errors import Severity
from toilewright.fit.alterations import ALTERATIONS
from toilewright.geometry.affine import Affine
from toilewright.output.cards import write_cards
from toilewright.pattern.truing import true_darts

WORDS = tomllib.loads((File(toilewright.app.__file__).parent / "words" / "en" / "alterations.toml").read_text("utf-8"))

PAIRS = [pytest.param(one, name, id=f"{one.name}, {name}")
         for one in ALTERATIONS for name in BLOCKS if one.has_place(block(name), {})]

# May be undone: +a, then -a is the start. (A bent edge that is drawn anew across a cut is not: no trousers here.)
INVERTIBLE = {("lengthen or shorten", "concert dress"), ("bust dart height", "concert dress"),
              ("waist in or out", "concert dress"), ("hip in or out", "concert dress")} | {
    (name, where) for where in BLOCKS for name in (
        "armhole depth", "armhole in or out", "sleeve pitch", "high hip in or out", "hip higher", "hem level",
        "forward neck", "neckline height")}


def is_sound(before, found, amount):
    """Whole, sewable, on the grain; pieces that are not named as changed are the same objects."""
    assert found.done[0].changed, amount
    old = {p.name: p for p in before.pieces}
    for after in found.garment.pieces:
        if after is old.get(after.name):
            assert after.name not in found.done[0].changed
            continue
        assert after.name in found.done[0].changed
        assert_whole(after)
        if after.name in old:
            was, now = (p.grain.end - p.grain.start for p in (old[after.name], after))
            assert abs(cmath.phase(now / was)) < 1e-9, after.name
    told = any(f.code == "sleeve-head" for f in found.done[0].findings)  # too much for the sleeve to follow
    broken = [f.text for f in found.findings if f.severity is Severity.STOP and not (told and "armhole" in f.text)]
    assert not broken, (amount, broken)


@pytest.mark.parametrize(("one", "name"), PAIRS)
def test_sound_by_any_usual_amount(one, name):
    garment = block(name)
    for options in asked_of(one, garment):
        for amount in amounts_of(one):
            found, took = tried(garment, one, amount, options)
            if found is not None:
                is_sound(garment, found, (took, options))


@pytest.mark.parametrize(("one", "name"), PAIRS)
def test_at_its_limit_it_works_or_says_the_most_that_does(one, name):
    garment = block(name)
    for options in asked_of(one, garment):
        for amount in one.sane:
            if amount:
                found, took = tried(garment, one, amount, options)
                if found is not None:
                    is_sound(garment, found, (took, options))


@pytest.mark.parametrize(("one", "name"), PAIRS)
def test_nothing_asked_nothing_changed(one, name):
    garment = block(name)
    found = altered(garment, one.name, 0.0, **asked_of(one, garment)[0])
    assert all(p is q for p, q in zip(garment.pieces, found.garment.pieces, strict=True))


@pytest.mark.parametrize(("one", "name"), PAIRS)
def test_mirrored_in_mirrored_out(one, name):
    garment = block(name)
    move = Affine.turn(0.8).then(Affine.shift(300 - 120j))
    for options in asked_of(one, garment):
        found, amount = tried(garment, one, amounts_of(one)[-1], options)
        if found is None:
            continue
        straight = other_hand(found.garment, move)
        mirrored = made(other_hand(garment, move), one.name, amount, **options)
        for a, b in zip(straight.pieces, mirrored.pieces, strict=True):
            if found.garment.piece(a.name) in garment.pieces:
                continue
            first = a.edges[0]
            shift = first.path.start - b.edge(first.name).path.start  # which side of a cut stays is free
            assert gap(a, b.mapped(Affine.shift(shift))) < 2e-3, (a.name, options)


@pytest.mark.parametrize(("one", "name"), [p for p in PAIRS if (p.values[0].name, p.values[1]) in INVERTIBLE])
def test_there_and_back(one, name):
    garment = block(name)
    for options in asked_of(one, garment):
        for amount in amounts_of(one):
            found, took = tried(garment, one, amount, options)
            if found is None or abs(took) > 50:
                continue
            back = made(found.garment, one.name, -took, **options)
            for before, after in zip(garment.pieces, back.pieces, strict=True):
                assert before is after or gap(true_darts(before), after) < 0.1, (before.name, took, options)


@pytest.mark.parametrize(("one", "name"), PAIRS)
def test_its_card_can_be_followed_at_the_table(one, name):
    garment = block(name)
    for options in asked_of(one, garment):
        for amount in {amounts_of(one)[-1], amounts_of(one)[0] if one.sane[0] < 0 else amounts_of(one)[-1]}:
            found, _ = tried(garment, one, amount, options)
            if found is None:
                continue
            card = found.done[0].card
            assert len(card.steps) >= 2 and card.check and card.need and card.source == one.source
            assert card.figures and all(figure.marks for figure in card.figures)
            assert any("mm}" in step for step in card.steps), card.title
            for words in (*card.steps, *card.check, *(c.text for figure in card.figures for c in figure.captions)):
                assert words.count("{") == words.count("}")
                for part in words.split("{")[1:]:
                    number, unit = part.split("}")[0].split(" ")
                    assert unit == "mm" and float(number) >= 0, words


@pytest.mark.parametrize("name", BLOCKS)
def test_every_card_fits_on_its_page(name, tmp_path):
    garment = block(name)
    found = (tried(garment, one, amounts_of(one)[-1], asked_of(one, garment)[-1])[0]
             for one in ALTERATIONS if one.has_place(garment, {}))
    cards = [f.done[0].card for f in found if f is not None]
    write_cards(cards, tmp_path / "cards.pdf", "in")  # inches take the most room
    with pypdfium2.PdfDocument(tmp_path / "cards.pdf") as pages:
        assert len(pages) == len(cards)


@pytest.mark.parametrize("one", ALTERATIONS, ids=lambda one: one.name)
def test_it_says_what_it_is(one):
    assert one.source and one.group and one.needs
    assert one.sane[0] < one.sane[1] and one.sane[1] > 0
    assert 0 <= one.rank <= 6
    key = one.name.replace(" ", "_")
    assert WORDS[f"see_{key}"] and WORDS[f"plus_{key}"]
    assert one.sane[0] >= 0 or WORDS[f"minus_{key}"]
    assert any(one.has_place(block(name), {}) for name in BLOCKS), "no drafted pattern shows it"


@pytest.mark.parametrize("one", ALTERATIONS, ids=lambda one: one.name)
def test_what_would_serve_instead_is_another_alteration(one):
    names = {other.name for other in ALTERATIONS if other is not one}
    assert set(re.findall(r'(?<!= )"([^"]+)"', one.instead)) <= names
    assert one.instead or not any(need.edges or need.darts for need in one.needs)


# -- a pattern read from a file ---------------------------------------------------------------------


READ = ("concert dress", "princess dress", "choir tunic")


@pytest.fixture(scope="module")
def read_back(tmp_path_factory):
    """Patterns printed on one sheet and read again: other curves, other places, guessed names."""
    from toilewright.make.reading import read_pattern
    from toilewright.output.printed_pattern import print_pattern

    @cache
    def read(name):
        sheet = tmp_path_factory.mktemp("sheet") / "pattern.pdf"
        print_pattern(BLOCKS[name](), sheet, "sheet")
        return read_pattern(sheet).pattern.at(SIZE)

    return read


@pytest.mark.parametrize(("one", "name"), [p for p in PAIRS if p.values[1] in READ])
def test_the_same_on_a_pattern_read_from_a_file(one, name, read_back):
    drafted, read = block(name), read_back(name)
    for options in asked_of(one, drafted):
        for amount in amounts_of(one)[::-2]:
            found, took = tried(read, one, amount, options)
            if found is None:
                continue
            is_sound(read, found, (took, options))
            same, taken = tried(drafted, one, took, options)
            if same is None or taken != took:
                continue
            for piece in same.done[0].changed:
                if same.garment.has(piece):
                    edges = [e.name for e in same.garment.piece(piece).edges]
                    ours, theirs = ([g.piece(piece).sewn_length(e) for e in edges]
                                    for g in (found.garment, same.garment))
                    assert ours == pytest.approx(theirs, abs=0.6 + 0.2 * abs(took)), (piece, took, options)


def test_a_piece_of_its_own_name_serves_as_well():
    """Names that are not the usual ones are given as options."""
    garment = block("concert dress")
    front = replace(garment.piece("bodice front"), name="top")
    renamed = replace(garment, pieces=tuple(front if p.name == "bodice front" else p for p in garment.pieces), seams=())
    assert made(renamed, "full bust", 10.0, piece="top").piece("top").area > front.area
