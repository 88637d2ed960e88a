"""Strips, extra pieces and allowances on the cloth step: asked for, tried, kept, shown as they are cut, taken out."""

import html
import json
import re

import pytest
from app.asking import script

from toilewright.app.differences import differences
from toilewright.app.extra_pieces import carried, fields, kinds, measure, on_form, written
from toilewright.app.site import create_app
from toilewright.app.table import Table
from toilewright.cutting.extra import find_kind
from toilewright.errors import InputError
from toilewright.workroom.documents import Kind

HTML = {"accept": "text/html"}


@pytest.fixture
def ask(choir):
    return script(create_app(choir)).ask


@pytest.fixture
def make(choir, ask):
    """A make whose extras and allowances are taken out again behind each test."""
    found = choir.things(Kind.MAKE)[0]
    yield found.id
    for among in ("extras", "allowances"):
        for row in reversed(getattr(choir.get(found.id).document, among)):
            now = choir.get(found.id)
            choir.change(now.id, now.revision, [((among, row.id), None)], "cleared")


@pytest.fixture
def edge(choir, make):
    """A sewn edge of the make's pieces, as the form offers it."""
    garment = Table(choir).outcome(make).altered.garment
    return next(f"{r.piece} {r.edge}" for s in garment.seams for r in s.a)


def page_of(ask, make):
    answer = ask("GET", f"/make/{make}/cloth", headers=HTML)
    assert answer.status_code == 200
    return html.unescape(answer.text)


def test_a_tie_is_kept_shown_as_it_is_cut_undone_and_taken_out(choir, make, edge, ask):
    before = choir.get(make)
    said = ask("POST", f"/make/{make}/extras", json={"kind": "tie", "options": {
        "edge": edge, "length": "60", "width": "2", "name": "belt", "grain": " ", "wearer": "child"}})
    assert said.status_code == 200, said.text
    row = choir.get(make).document.extras[0]
    assert row.kind == "tie" and row.options["length"] == "60 cm" and "grain" not in row.options
    text = page_of(ask, make)
    assert "Belt" in text and "62.0 cm by 6.0 cm" in text
    assert f"sewn to {edge.rpartition(' ')[0][:5]}" in text and "Order of work" in text
    assert "EN 14682" in text
    undone = ask("POST", f"/things/{make}/undo", json={"base": choir.get(make).revision})
    assert undone.status_code == 200 and choir.get(make).document.extras == before.document.extras
    assert ask("POST", f"/things/{make}/redo", json={"base": choir.get(make).revision}).status_code == 200
    row = choir.get(make).document.extras[0]
    assert ask("POST", f"/make/{make}/extras/out", json={"among": "extras", "id": row.id}).status_code == 200
    assert not choir.get(make).document.extras
    gone = ask("POST", f"/make/{make}/extras/out", json={"among": "extras", "id": row.id})
    assert gone.status_code == 422 and "taken out already" in gone.json()["error"]["text"]


@pytest.mark.parametrize(("kind", "options", "names"), [
    ("", {}, "Choose what to add"),
    ("tye", {}, "tie"),
    ("tie", {"edge": "EDGE"}, '"length"'),
    ("tie", {"edge": "EDGE", "length": "60 ells"}, '"length"'),
    ("tie", {"edge": "EDGE", "length": "9000"}, "500.0 cm"),
    ("tie", {"edge": "no such edge", "length": "60"}, "no such edge"),
    ("tie", {"edge": "EDGE", "length": "60", "grain": "sideways"}, "sideways"),
    ("tie", {"edge": "EDGE", "length": "60", "colour": "red"}, "colour"),
    ("buttonholes", {"edge": "EDGE", "count": "two"}, "two"),
])
def test_what_cannot_be_used_is_refused_in_one_sentence_and_changes_nothing(choir, make, edge, ask, kind, options,
                                                                            names):
    before = choir.get(make).revision
    said = ask("POST", f"/make/{make}/extras",
               json={"kind": kind, "options": {k: v.replace("EDGE", edge) for k, v in options.items()}})
    assert 400 <= said.status_code < 500, said.text
    text = said.json()["error"]["text"]
    assert names in text and text[-1] in ".?" and choir.get(make).revision == before


def test_what_another_piece_rests_on_is_not_taken_out_before_it(choir, make, edge, ask):
    for options in (
            {"edge": edge, "depth": "8", "name": "upper frill"},
            {"edge": "upper frill hem", "depth": "8", "name": "lower frill"}):
        said = ask("POST", f"/make/{make}/extras", json={"kind": "frill", "options": options})
        assert said.status_code == 200, said.text
    first, second = choir.get(make).document.extras
    refused = ask("POST", f"/make/{make}/extras/out", json={"among": "extras", "id": first.id})
    assert 400 <= refused.status_code < 500 and len(choir.get(make).document.extras) == 2
    for row in (second, first):
        assert ask("POST", f"/make/{make}/extras/out", json={"among": "extras", "id": row.id}).status_code == 200


def test_an_allowance_moves_the_cutting_line_and_is_said_once_for_an_edge(choir, make, ask):
    def widths():
        return {e.allowance for p in Table(choir).outcome(make).altered.garment.pieces for e in p.edges
                if e.kind.value == "hem"}
    as_bought = widths()
    for amount, mm in (("5", 50.0), ("2 in", 50.8)):
        said = ask("POST", f"/make/{make}/extras/allowance", json={"edge": "hem", "amount": amount})
        assert said.status_code == 200, said.text
        assert widths() == {mm} and [(r.edge, r.amount) for r in choir.get(make).document.allowances] == [("hem", mm)]
    for edge, amount, names in (("", "2", "which edges"), ("hem", "", "how wide"), ("hem", "much", "much"),
                                ("hemm", "2", "hem"), ("all", "50", "all")):
        said = ask("POST", f"/make/{make}/extras/allowance", json={"edge": edge, "amount": amount})
        assert 400 <= said.status_code < 500 and names in said.json()["error"]["text"]
    row = choir.get(make).document.allowances[0]
    assert ask("POST", f"/make/{make}/extras/out", json={"among": "allowances", "id": row.id}).status_code == 200
    assert widths() == as_bought


def test_an_extra_that_no_longer_fits_can_be_taken_out_where_the_step_waits(choir, make, edge, ask):
    now = choir.get(make)
    lost = {"kind": "tie", "options": {"edge": "nowhere", "length": "60 cm"}}
    choir.change(make, now.revision, [(("extras", "+"), lost)], "as if the pattern had changed")
    text = page_of(ask, make)
    row = choir.get(make).document.extras[0]
    assert "nowhere" in text and f'data-id="{row.id}"' in text and "add-extra" not in text
    assert ask("POST", f"/make/{make}/extras/out", json={"among": "extras", "id": row.id}).status_code == 200
    assert "add-extra" in page_of(ask, make)


@pytest.mark.parametrize("kind", kinds(), ids=lambda k: k.name)
@pytest.mark.parametrize("unit", ["cm", "in"])
def test_every_kind_has_a_form_that_asks_all_its_options(make, ask, kind, unit):
    text = ask("GET", f"/make/{make}/extras/fields", params={"kind": kind.name}, headers=HTML)
    text = html.unescape(text.text)
    for option in kind.options:
        assert f'data-option="{option.name}"' in text and on_form(option.says) in text
    asked = fields(kind, unit)
    assert {one.name for one in asked} == {o.name for o in kind.options}
    assert [one.needed for one in asked] == sorted((one.needed for one in asked), reverse=True)
    for one, option in ((one, kind.option(one.name)) for one in asked):
        if option.asks.value in ("length", "lengths"):
            assert one.label.endswith(f", {unit}") and (option.most is None or f" {unit}" in one.hint)


def test_bare_lengths_are_kept_with_the_unit_of_the_page():
    _, kept = written("frill", {"edge": "hem", "depth": "3+4 1/2", "ratio": "2"}, "in")
    assert kept == {"edge": "hem", "depth": "3 in + 4 1/2 in", "ratio": "2"}
    _, kept = written("bias", {"edge": "neck", "stretch": "3"}, "cm")
    assert kept["stretch"] == "3 %" and find_kind("bias").read(kept, "cm", "it")["stretch"] == pytest.approx(0.03)
    assert measure("0", "in") == "0" and measure("", "in") == ""
    with pytest.raises(InputError):
        written("bias", {"edge": "neck", "stretch": "80"}, "cm")


def add(ask, make, kind, **options):
    said = ask("POST", f"/make/{make}/extras", json={"kind": kind, "options": options})
    assert said.status_code == 200, said.text
    return said.json()["document"]["extras"][-1]


def form_of(ask, make, row):
    """The fields of a piece that is changed: what stands in each."""
    text = ask("GET", f"/make/{make}/extras/change", params={"row": row["id"]}, headers=HTML).text
    return values_in(text), text


def values_in(text):
    """What stands in the fields of a form."""
    found = {name: html.unescape(value) for name, value in
             re.findall(r'<input [^>]*data-option="([^"]+)"[^>]* value="([^"]*)"', text)}
    for name, choices in re.findall(r'<select [^>]*data-option="([^"]+)"[^>]*>(.*?)</select>', text, re.S):
        for value in re.findall(r'<option value="([^"]+)" selected', choices):
            found[name] = value
    return found


def test_a_piece_is_changed_in_its_place_and_keeps_what_is_sewn_to_it(choir, make, edge, ask):
    first = add(ask, make, "frill", edge=edge, depth="8", name="upper frill")
    second = add(ask, make, "frill", edge="upper frill hem", depth="5", name="lower frill")
    filled, text = form_of(ask, make, first)
    assert filled == {"edge": edge, "depth": "8", "name": "upper frill"} and 'id="extra-more-' in text
    before = choir.get(make)
    said = ask("POST", f"/make/{make}/extras/change", json={
        "id": first["id"], "base": before.revision, "options": filled | {"depth": "10", "weight": "fine"}})
    assert said.status_code == 200, said.text
    rows = choir.get(make).document.extras
    assert [row.id for row in rows] == [first["id"], second["id"]]
    assert rows[0].options == {"edge": edge, "depth": "10 cm", "weight": "fine", "name": "upper frill"}
    assert rows[1].options == second["options"] and "depth 10 cm" in page_of(ask, make)
    assert form_of(ask, make, first)[0]["weight"] == "fine"
    assert ask("POST", f"/things/{make}/undo", json={"base": choir.get(make).revision}).status_code == 200
    assert choir.get(make).document == before.document
    for slip, names in (({"depth": "ten"}, '"depth"'), ({"edge": "nowhere"}, "nowhere"), ({"edge": ""}, '"edge"'),
                        ({"name": "top frill"}, "by its name"), ({"weight": "heavy"}, "heavy")):
        said = ask("POST", f"/make/{make}/extras/change", json={
            "id": first["id"], "base": choir.get(make).revision, "options": filled | slip})
        assert 400 <= said.status_code < 500 and names in said.json()["error"]["text"], said.text
        assert choir.get(make).document == before.document


def asked_anew(ask, make, kind, was, said, row=""):
    """The fields of another kind, with what holds for both."""
    return ask("GET", f"/make/{make}/extras/fields", headers=HTML,
               params={"kind": kind, "was": was, "row": row, "said": json.dumps(said)})


def test_what_means_the_same_comes_along_to_another_kind(make, ask):
    tie, strap, facing, frill, lining = (find_kind(k) for k in ("tie", "strap", "facing", "frill", "lining"))
    said = {"edge": "neck", "length": "60 cm", "width": "2", "name": "belt", "cloth": "lining", "wearer": "child"}
    assert carried(said, tie, strap) == said == carried(said, strap, tie)
    assert carried(said, tie, facing) == {"edge": "neck", "width": "2", "name": "belt", "cloth": "lining"}
    assert carried(said, tie, frill) == {"edge": "neck", "name": "belt", "cloth": "lining"}
    assert carried(said, tie, lining) == {"cloth": "lining"}
    assert carried({"hem": "rolled", "depth": "8"}, frill, find_kind("patch pocket")) == {}
    text = asked_anew(ask, make, "facing", "tie", said, "r").text
    assert values_in(text) == carried(said, tie, facing) and 'id="option-1-r"' in text
    assert values_in(asked_anew(ask, make, "strap", "tie", said).text) == {**said, "length": "60"}
    for was, wrong, names in (("tye", {}, '"tie"'), ("tie", {"colour": "red"}, "colour"), ("tie", ["edge"], "again")):
        answer = ask("GET", f"/make/{make}/extras/fields",
                     params={"kind": "facing", "was": was, "said": json.dumps(wrong)})
        assert refused(answer) and names in answer.json()["error"]["text"]


def test_a_piece_becomes_another_kind_in_its_place(choir, make, edge, ask):
    first = add(ask, make, "tie", edge=edge, length="60", name="belt")
    add(ask, make, "tie", edge=edge, length="30", name="loop")
    before = choir.get(make)
    assert 'value="tie" selected' in form_of(ask, make, first)[1]
    other = {"id": first["id"], "base": before.revision, "kind": "frill",
             "options": {"edge": edge, "name": "belt", "depth": "8"}}
    assert ask("POST", f"/make/{make}/extras/change", json=other).status_code == 200
    now = choir.get(make).document
    assert [(row.id == first["id"], row.kind) for row in now.extras] == [(True, "frill"), (False, "tie")]
    assert f"frill: edge {edge}, depth 8 cm" in page_of(ask, make)
    assert now.extras[0].options == {"edge": edge, "name": "belt", "depth": "8 cm"}
    said = [(d.where, d.now, d.then) for d in differences(now, before.document, "cm", str)]
    assert ("strip or extra piece, frill, what it is", "frill", "tie") in said
    assert "changed: belt, now: frill" in [one.words for one in choir.history(make)]
    assert ask("POST", f"/things/{make}/undo", json={"base": choir.get(make).revision}).status_code == 200
    assert choir.get(make).document == before.document
    base = choir.get(make).revision
    for slip, names in (({"options": {}}, '"edge"'), ({"kind": "flounze"}, "flounze"),
                        ({"options": {"edge": edge, "length": "60"}}, "length"),
                        ({"options": {"edge": "nowhere"}}, "nowhere")):
        said = ask("POST", f"/make/{make}/extras/change", json=other | {"base": base} | slip)
        assert 400 <= said.status_code < 500 and names in said.json()["error"]["text"], said.text
        assert choir.get(make).document == before.document


def test_a_piece_that_another_is_sewn_to_becomes_no_other_kind_before_it(choir, make, edge, ask):
    first = add(ask, make, "frill", edge=edge, depth="8", name="upper frill")
    second = add(ask, make, "frill", edge="upper frill hem", depth="5", name="lower frill")
    change = {"id": first["id"], "kind": "tie", "options": {"edge": edge, "length": "60", "name": "upper frill"}}

    def become(**more):
        return ask("POST", f"/make/{make}/extras/change", json=change | {"base": choir.get(make).revision} | more)

    assert "Another piece is sewn to this one" in become().json()["error"]["text"]
    told = become(options={"edge": "nowhere", "length": "60"}).json()["error"]["text"]
    assert "nowhere" in told and "Another piece" not in told
    assert [row.kind for row in choir.get(make).document.extras] == ["frill", "frill"]
    assert aside(ask, make, "extras", second["id"], False).status_code == 200
    assert become().status_code == 200 and choir.get(make).document.extras[0].kind == "tie"


def test_what_was_changed_or_taken_out_elsewhere_meanwhile_is_not_overwritten(choir, make, edge, ask):
    row = add(ask, make, "tie", edge=edge, length="60")
    seen = choir.get(make).revision
    other = {"id": row["id"], "base": seen, "options": row["options"] | {"length": "70"}}
    assert ask("POST", f"/make/{make}/extras/change", json=other).status_code == 200
    late = other | {"options": row["options"] | {"length": "80"}}
    said = ask("POST", f"/make/{make}/extras/change", json=late)
    assert said.status_code == 409 and choir.get(make).document.extras[0].options["length"] == "70 cm"
    late["base"] = choir.get(make).revision
    assert ask("POST", f"/make/{make}/extras/change", json=late).status_code == 200
    assert ask("POST", f"/make/{make}/extras/out", json={"among": "extras", "id": row["id"]}).status_code == 200
    for said in (ask("POST", f"/make/{make}/extras/change", json=late),
                 ask("GET", f"/make/{make}/extras/change", params={"row": row["id"]})):
        assert said.status_code == 422 and "taken out already" in said.json()["error"]["text"]


def test_a_piece_that_no_longer_fits_is_mended_where_the_step_waits(choir, make, edge, ask):
    lost = {"kind": "tie", "options": {"edge": "nowhere", "length": "60 cm"}}
    choir.change(make, choir.get(make).revision, [(("extras", "+"), lost)], "as if the pattern had changed")
    row = choir.get(make).document.extras[0]
    assert f'data-change="{row.id}"' in page_of(ask, make)
    said = ask("POST", f"/make/{make}/extras/change", json={
        "id": row.id, "base": choir.get(make).revision, "options": {"edge": edge, "length": "60"}})
    assert said.status_code == 200 and "add-extra" in page_of(ask, make)


def test_a_form_shows_what_was_written_without_the_unit_that_its_label_says():
    kind = find_kind("frill")
    said = {"edge": "hem", "depth": "3 in + 4 1/2 in", "ratio": "2", "hem": "Rolled"}
    for unit, depth in (("in", "3 + 4 1/2"), ("cm", "3 in + 4 1/2 in")):
        found = {one.name: one.value for one in fields(kind, unit, said) if one.value}
        assert found == {"edge": "hem", "depth": depth, "ratio": "2", "hem": "rolled"}
        assert written("frill", found, unit)[1]["depth"] == said["depth"]
    assert {one.value for one in fields(find_kind("bias"), "cm", {"stretch": "3 %"})} == {"", "3"}


def refused(answer):
    return 400 <= answer.status_code < 500 and answer.json()["error"]["text"][-1] in ".?"


def aside(ask, make, among, row_id, on):
    return ask("POST", f"/make/{make}/extras/aside", json={"among": among, "id": row_id, "on": on})


def test_what_is_left_aside_is_kept_told_and_put_back(choir, make, edge, ask):
    row = add(ask, make, "tie", edge=edge, length="60", name="belt")
    before = choir.get(make).document
    pieces = [p.name for p in Table(choir).outcome(make).altered.garment.pieces]
    assert aside(ask, make, "extras", row["id"], False).status_code == 200
    kept = choir.get(make).document.extras[0]
    assert not kept.on and kept.options == row["options"]
    left = [p.name for p in Table(choir).outcome(make).altered.garment.pieces]
    assert set(pieces) - set(left) == {"belt"}
    assert "Left aside" in page_of(ask, make) and "62.0 cm by 6.0 cm" not in page_of(ask, make)
    said = ask("POST", f"/make/{make}/extras/change", json={
        "id": row["id"], "base": choir.get(make).revision, "options": row["options"] | {"length": "80"}})
    assert said.status_code == 200 and not choir.get(make).document.extras[0].on
    assert aside(ask, make, "extras", row["id"], True).status_code == 200
    assert "82.0 cm by 6.0 cm" in page_of(ask, make)
    for _ in range(3):
        assert ask("POST", f"/things/{make}/undo", json={"base": choir.get(make).revision}).status_code == 200
    assert choir.get(make).document == before
    assert aside(ask, make, "pictures", row["id"], True).status_code == 422


def test_what_another_piece_rests_on_is_not_left_aside_before_it_nor_the_other_put_back_alone(choir, make, edge, ask):
    first = add(ask, make, "frill", edge=edge, depth="8", name="upper frill")
    second = add(ask, make, "frill", edge="upper frill hem", depth="5", name="lower frill")
    assert refused(aside(ask, make, "extras", first["id"], False))
    for row in (second, first):
        assert aside(ask, make, "extras", row["id"], False).status_code == 200
    assert refused(aside(ask, make, "extras", second["id"], True))
    assert [row.on for row in choir.get(make).document.extras] == [False, False]
    for row in (first, second):
        assert aside(ask, make, "extras", row["id"], True).status_code == 200


def test_an_allowance_is_left_aside_and_comes_back_when_it_is_set_again(choir, make, ask):
    def widths():
        return {e.allowance for p in Table(choir).outcome(make).altered.garment.pieces for e in p.edges
                if e.kind.value == "hem"}
    as_bought = widths()
    said = ask("POST", f"/make/{make}/extras/allowance", json={"edge": "hem", "amount": "5"})
    row = said.json()["document"]["allowances"][0]
    assert row["on"] and widths() == {50.0}
    assert aside(ask, make, "allowances", row["id"], False).status_code == 200
    assert widths() == as_bought and "left aside" in page_of(ask, make)
    assert aside(ask, make, "allowances", row["id"], True).status_code == 200 and widths() == {50.0}
    assert aside(ask, make, "allowances", row["id"], False).status_code == 200
    ask("POST", f"/make/{make}/extras/allowance", json={"edge": "hem", "amount": "6"})
    assert [(r.id, r.amount, r.on) for r in choir.get(make).document.allowances] == [(row["id"], 60.0, True)]


def test_what_stops_a_step_can_be_left_aside_there(choir, make, ask):
    lost = {"kind": "tie", "options": {"edge": "nowhere", "length": "60 cm"}}
    choir.change(make, choir.get(make).revision, [(("extras", "+"), lost)], "as if the pattern had changed")
    row = choir.get(make).document.extras[0]
    assert "leave it aside" in page_of(ask, make)
    assert aside(ask, make, "extras", row.id, False).status_code == 200
    assert "add-extra" in page_of(ask, make)
    assert refused(aside(ask, make, "extras", row.id, True)) and not choir.get(make).document.extras[0].on
