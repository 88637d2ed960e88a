"""Tissue without a file on the pages: taken number by number, doubted where it does not fit, then used like a file."""

from html import unescape

import pytest
from app.asking import script

from toilewright.app.site import create_app
from toilewright.app.tissue import rows_of
from toilewright.fit.flat import flat_of
from toilewright.make.takings import takings_on
from toilewright.make.tissue_kinds import find_kind
from toilewright.workroom.documents import BodyDoc, Kind, MakeDoc, PatternDoc, TapeSheet, TissueSheet, WishRow
from toilewright.workroom.packing import export_make, import_file
from toilewright.workroom.store import Workroom
from toilewright.workroom.taking import take_make
from toilewright.workroom.tissue import read_tissue

SKIRT = {"waist front": 204.0, "waist back": 199.0, "hip front": 269.0, "hip back": 269.0}


def taken_off(kind, size="6"):
    """Every taking of a kind off its own block, in mm, without allowances."""
    block = find_kind(kind, "").block(size)
    flat, takings = flat_of(block).lengths, takings_on(block)
    return {t.name: flat[t.makes].value / t.times / len([o for o in takings if o.makes == t.makes])
            for t in takings if t.makes in flat}


@pytest.fixture
def room(tmp_path):
    room = Workroom.open(tmp_path / "room")
    yield room
    room.close()


@pytest.fixture
def client(room):
    return script(create_app(room))


def lay(room, kind, lengths, **more):
    tissue = TissueSheet(kind, size="14", allowance=0.0, lengths=lengths, **more)
    return room.add(Kind.PATTERN, PatternDoc(f"my {kind}", tissue=tissue), "laid out")


def state(client, thing, **asked):
    answer = client.get(f"/pattern/{thing.id}/tissue", params=asked)
    assert answer.status_code == 200, answer.text
    return answer.json()


def enter(client, room, thing, *rows):
    asked = {"base": room.get(thing.id).revision, "set": rows, "words": "entered"}
    answer = client.post(f"/things/{thing.id}/change", json=asked)
    assert answer.status_code == 200, answer.text
    return state(client, thing)


def text_of(client, path):
    answer = client.get(path, headers={"accept": "text/html"})
    assert answer.status_code == 200, answer.text
    return unescape(answer.text)


def test_a_pattern_with_a_file_has_no_lengths_to_take(client, room):
    thing = room.add(Kind.PATTERN, PatternDoc("bought"), "brought")
    answer = client.get(f"/pattern/{thing.id}/tissue")
    assert answer.status_code == 422 and "not by the tape" in answer.json()["error"]["text"]


def test_it_begins_with_nothing_and_says_what_is_needed_until_it_is_there(client, room):
    made = client.post("/things", json={"kind": "pattern", "words": "laid out", "document": {
        "name": "my skirt", "tissue": {"garment": "skirt", "unit": "cm"}}})
    thing = room.get(made.json()["id"])
    first = state(client, thing)
    assert not first["ready"] and "the size on the tissue, its allowances" in first["html"]
    assert "the first lengths" in first["html"] and first["asked"] == []
    half = enter(client, room, thing, [["tissue", "size"], "14"],
                 [["tissue", "lengths", "hip front"], {"length": "26,9", "unit": "cm"}])
    assert not half["ready"] and half["rows"] == {"hip front": "26.9"}
    assert "hip front counts once hip back is taken too" in half["html"]
    enter(client, room, thing, [["tissue", "allowance"], {"length": "0", "unit": "cm"}])
    rest = [[["tissue", "lengths", n], {"length": mm / 10, "unit": "cm"}] for n, mm in SKIRT.items()]
    assert enter(client, room, thing, *rest)["ready"]
    assert read_tissue(room.get(thing.id).document).by_tape
    room.undo(thing.id, room.get(thing.id).revision)
    assert state(client, thing)["rows"] == {"hip front": "26.9"}


@pytest.mark.parametrize("kind", ["dress", "princess dress", "tunic", "trousers", "wrap skirt"])
def test_every_length_has_one_field_in_order_and_a_picture_of_the_tape(client, room, kind):
    rows = [row for _, group in rows_of(TissueSheet(kind)) for row in group]
    names = {t.name for t in takings_on(find_kind(kind, "").block())}
    assert [row.number for row in rows] == list(range(1, len(names) + 1)) and {row.name for row in rows} == names
    assert all(row.pictures and "pen-tape" in row.pictures[0] for row in rows)
    page = text_of(client, f"/pattern/{lay(room, kind, {}).id}")
    assert page.count('class="taking"') == len(names)


def test_a_length_that_does_not_fit_the_others_is_asked_about_at_its_own_row(client, room):
    lengths = taken_off("dress")
    thing = lay(room, "dress", lengths)
    assert state(client, thing)["ready"] and state(client, thing)["asked"] == []
    off = enter(client, room, thing, [["tissue", "lengths", "across back"], lengths["across back"] * 10])
    assert [(a["about"], a["kind"]) for a in off["asked"]] == [("across back", "stop")] and not off["ready"]
    right = enter(client, room, thing, [["tissue", "lengths", "across back"], lengths["across back"]])
    assert right["ready"] and right["asked"] == []


def test_an_answered_question_is_not_asked_again_until_the_length_is_another(client, room):
    lengths = taken_off("dress")
    thing = lay(room, "dress", {**lengths, "armhole front": lengths["armhole front"] + 45})
    asked = state(client, thing)["asked"]
    assert [a["kind"] for a in asked] == ["look"]
    one = asked[0]
    assert enter(client, room, thing, [["tissue", "sure", one["key"]], "2026-11-25"])["asked"] == []
    again = enter(client, room, thing, [["tissue", "lengths", one["about"]],
                                        room.get(thing.id).document.tissue.lengths[one["about"]] + 2])
    assert [a["about"] for a in again["asked"]] == [one["about"]]


def test_the_envelopes_chart_makes_sizes_and_is_doubted_where_it_cannot_be(client, room):
    thing = lay(room, "skirt", SKIRT)
    girths = [{"length": n, "unit": "cm"} for n in (92, 96, 100)]
    found = enter(client, room, thing, [["tissue", "sizes"], ["12", "14", "16"]],
                  [["tissue", "chart", "hip girth"], girths])
    assert found["ready"] and read_tissue(room.get(thing.id).document).pattern.sizes == ("12", "14", "16")
    assert "size 16" in text_of(client, f"/pattern/{thing.id}")
    odd = enter(client, room, thing, [["tissue", "chart", "waist girth"], [7.0, 740.0, 780.0]])
    assert "no body has" in odd["asked"][0]["text"] and not odd["ready"]
    short = enter(client, room, thing, [["tissue", "chart", "waist girth"], [740.0, 780.0]])
    assert "2 numbers for 3 sizes" in short["asked"][0]["text"] and short["ready"]


@pytest.fixture
def make(room):
    measures = {"stature": 1660.0, "bust girth": 955.0, "waist girth": 785.0,
                "hip girth": 1020.0,
                "back neck point to waist": 430.0, "neck shoulder point to bust point": 291.0,
                "bust point width": 200.0,
                "neck shoulder point to waist": 450.0, "waist to hip": 208.0, "upper arm girth": 295.0}
    body = room.add(Kind.BODY, BodyDoc("the alto", sheets=(TapeSheet("s1", "2026-11-20", measures),)), "new")
    pattern = lay(room, "dress", taken_off("dress"))
    doc = MakeDoc("Dress", body.id, pattern=pattern.id,
                  alterations=(WishRow("w1", "high round back", 10.0),))
    return room.add(Kind.MAKE, doc, "begun")


def test_every_later_step_goes_by_the_tissue_and_print_says_why_it_has_no_pieces(client, room, make):
    for step in ("pattern", "size", "alter", "walk", "cards"):
        assert "my dress" in text_of(client, f"/make/{make.id}/{step}") or step != "pattern"
    assert "high round back" in text_of(client, f"/make/{make.id}/cards").lower()
    page = text_of(client, f"/make/{make.id}/print")
    assert "There are no pieces to print" in page and 'name="paper"' not in page
    job = client.post(f"/make/{make.id}/print").json()["job"]
    assert client.finish(job)["state"] == "done"
    files = client.get(f"/make/{make.id}/print/files").text
    assert "cards.pdf" in files and "pieces-a4.pdf" not in files


def test_a_make_with_tissue_is_packed_and_unpacked_whole(room, make, tmp_path):
    other = Workroom.open(tmp_path / "other")
    import_file(other, export_make(room, make.id))
    pattern = make.document.pattern
    assert other.get(pattern).document == room.get(pattern).document
    other.close()


def test_a_wrap_says_whether_she_is_covered(client, room, make):
    wrap = lay(room, "wrap skirt", taken_off("wrap skirt", "8"))
    room.change(make.id, make.revision, [(("pattern",), wrap.id), (("alterations",), [])], "a wrap")
    said = state(client, wrap, make=make.id)["html"]
    assert all(way in said.lower() for way in ("standing", "sitting", "stepping")) and "cover her" in said


def test_a_make_file_with_a_flat_sheet_is_taken_in(client, room, tmp_path):
    rows = "".join(f'"{n}" = {mm / 10}\n' for n, mm in SKIRT.items())
    (tmp_path / "envelope.toml").write_text(f'name = "Skirt"\ngarment = "skirt"\nsize = "14"\nallowances = "none"\n'
                                            f"[lengths]\n{rows}", encoding="utf-8")
    (tmp_path / "tape.toml").write_text('name = "the alto"\n[measures]\nbust = 95.5\nwaist = 78.5\nhip = 102\n',
                                        encoding="utf-8")
    (tmp_path / "make.toml").write_text('title = "Skirt"\ntape = "tape.toml"\npattern = "envelope.toml"\n',
                                        encoding="utf-8")
    taken = take_make(room, tmp_path / "make.toml")
    tissue = room.get(taken.document.pattern).document.tissue
    assert tissue.size == "14" and tissue.lengths == pytest.approx(SKIRT)
    assert take_make(room, tmp_path / "make.toml").document.pattern == taken.document.pattern
    assert "Skirt" in text_of(client, f"/make/{taken.id}/size")


def test_a_change_of_a_length_tells_what_it_does_to_settled_steps(client, room, make):
    for step in ("size", "alter"):
        assert client.post(f"/make/{make.id}/settle/{step}").status_code == 200
    pattern = make.document.pattern
    bust = room.get(pattern).document.tissue.lengths["bust front"] / 10 - 1
    answer = client.post("/ahead", json={"thing": pattern, "set": [
        [["tissue", "lengths", "bust front"], {"length": str(bust), "unit": "cm"}]]})
    assert answer.status_code == 200, answer.text
    assert [one["title"] for one in answer.json()["makes"]] == ["Dress"]
    sure = [["tissue", "sure", "bust front 1"], "2026-11-25"]
    answered = client.post("/ahead", json={"thing": pattern, "set": [sure]})
    assert answered.json()["makes"] == []


def test_a_kind_that_is_not_known_any_more_breaks_no_list(client, room):
    lay(room, "crinoline", {"hoop": 900.0})
    assert "my crinoline" in text_of(client, "/patterns")
