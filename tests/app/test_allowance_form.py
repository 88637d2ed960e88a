"""Allowances on the cloth step: offered where they take effect, refused with the way out elsewhere."""

import html
from dataclasses import replace

import pytest
from app.asking import script

from toilewright.app.allowance_forms import allowance_offers, allowance_rows, without_effect
from toilewright.app.site import create_app
from toilewright.app.table import Table
from toilewright.pattern.parts import EdgeKind
from toilewright.workroom.documents import AllowanceRow, ExtraRow, Kind

EXTRAS = (ExtraRow("1", "tie", {"edge": "bodice front side seam", "length": "60 cm", "name": "belt"}),
          ExtraRow("2", "bias", {"edge": "armhole", "finished": "8 mm"}),
          ExtraRow("3", "frill", {"edge": "skirt hem", "depth": "6 cm", "name": "flounce"}))


@pytest.fixture
def ask(choir):
    return script(create_app(choir)).ask


@pytest.fixture
def make(choir):
    """A make with extra pieces; as it was before, behind each test."""
    found = choir.things(Kind.MAKE)[0]
    rows = [(("extras", "+"), {"kind": e.kind, "options": e.options}) for e in EXTRAS]
    choir.change(found.id, found.revision, rows, "with extra pieces")
    yield found.id
    document = choir.get(found.id).document
    rows = [((among, row.id), None) for among in ("allowances", "extras") for row in reversed(getattr(document, among))]
    choir.change(found.id, choir.get(found.id).revision, rows, "cleared")


@pytest.fixture
def outcome(choir, make):
    return Table(choir).outcome(make)


def test_an_allowance_takes_effect_wherever_it_is_offered(choir, make, outcome):
    offers = allowance_offers(outcome)
    one_edge = [at for at in offers if "/" in at]
    rows = tuple(AllowanceRow(str(n), at, 11.3) for n, at in enumerate(one_edge))
    document = replace(choir.get(make).document, allowances=rows)
    garment = Table(choir).outcome(make, document).altered.garment
    cut = {f"{p.name}/{e.name}" for p in garment.pieces for e in p.edges if e.allowance == 11.3}
    assert cut == set(one_edge) and len(one_edge) > 30
    for at in ("seams", "hem", "neck", "bodice front"):
        document = replace(document, allowances=(AllowanceRow("1", at, 11.3),))
        garment = Table(choir).outcome(make, document).altered.garment
        assert at in offers and any(e.allowance == 11.3 for p in garment.pieces for e in p.edges)


def test_what_extra_pieces_decide_what_lies_on_a_fold_and_what_no_piece_has_is_not_offered(choir, make, outcome):
    offers, garment = set(allowance_offers(outcome)), outcome.altered.garment
    assert {"all", "seams", "hem", "neck", "bodice front", "bodice front/neck", "sleeve/hem"} <= offers
    extra = [p for one in outcome.extras for p in one.built.pieces]
    for piece in extra:
        assert not {piece.name, *(f"{piece.name}/{e.name}" for e in piece.edges)} & offers
    theirs = {e.name for p in extra for e in p.edges} - {e.name for p in garment.pieces for e in p.edges
                                                         if p not in extra}
    assert "sewn edge" in theirs and not theirs & offers
    assert not {"armhole", "bodice front/armhole", "bodice back/armhole", "skirt tier/hem"} & offers
    folds = {f"{p.name}/{e.name}" for p in garment.pieces for e in p.edges if e.kind is EdgeKind.FOLD}
    assert folds and not folds & offers
    openings = any(e.kind is EdgeKind.OPENING for p in garment.pieces for e in p.edges)
    assert ("openings" in offers) == openings
    bare = Table(choir).outcome(make, replace(choir.get(make).document, extras=()))
    assert {"armhole", "bodice front/armhole", "skirt tier/hem"} <= set(allowance_offers(bare))


@pytest.mark.parametrize(("edge", "names"), [
    ("belt", '"belt" is an extra piece'), ("Belt/end", '"belt" is an extra piece'),
    ("armhole binding/sewn edge", '"armhole binding" is an extra piece'), ("sewn edge", "is an extra piece"),
    ("armhole", 'said by "armhole binding"'), ("bodice back/armhole", 'said by "armhole binding"'),
    ("skirt tier/hem", 'said by "flounce"'), ("nowhere", "nowhere")])
def test_what_would_change_nothing_is_refused_with_the_way_out(choir, make, ask, edge, names):
    before = choir.get(make)
    said = ask("POST", f"/make/{make}/extras/allowance", json={"edge": edge, "amount": "2"})
    assert 400 <= said.status_code < 500 and names in said.json()["error"]["text"], said.text
    assert choir.get(make).document == before.document


def test_one_that_an_extra_piece_overrules_later_is_told_beside_it(choir, make, outcome, ask):
    def page():
        return html.unescape(ask("GET", f"/make/{make}/cloth", headers={"accept": "text/html"}).text)

    def set_aside(row, on):
        said = ask("POST", f"/make/{make}/extras/aside", json={"among": "extras", "id": row.id, "on": on})
        assert said.status_code == 200, said.text

    assert without_effect(outcome, "neck") == "" and without_effect(outcome, "nowhere") == ""
    binding = choir.get(make).document.extras[1]
    set_aside(binding, False)
    said = ask("POST", f"/make/{make}/extras/allowance", json={"edge": "armhole", "amount": "2"})
    assert said.status_code == 200 and "changes nothing" not in page()
    set_aside(binding, True)
    assert 'An allowance for "armhole" changes nothing' in page()
    document = choir.get(make).document
    assert [bool(row.idle) for row in allowance_rows(document, Table(choir).outcome(make))] == [True]
    assert [row.idle for row in allowance_rows(document, None)] == [""]
    row = document.allowances[0]
    said = ask("POST", f"/make/{make}/extras/aside", json={"among": "allowances", "id": row.id, "on": False})
    assert said.status_code == 200 and "changes nothing" not in page()
