"""Patterns brought in and looked through: what is kept, what follows a name, what is refused."""

from html import unescape

import pytest
from app.asking import script
from bad_input.sheets import small_dress

from toilewright.app.relabel import as_toml, read_toml, rows_for
from toilewright.app.site import create_app
from toilewright.errors import InputError
from toilewright.make.keeping import labels_from, plain_labels, unpack_reading
from toilewright.output.printed_pattern import print_pattern
from toilewright.workroom.documents import Kind, MakeDoc, PatternDoc
from toilewright.workroom.recipes import reading_key
from toilewright.workroom.store import Workroom

SQUARES = (b'<svg xmlns="http://www.w3.org/2000/svg" width="30in" height="24in" viewBox="0 0 30 24"><g fill="none" '
           b'stroke="black"><path d="M2 2L9 2.4C9.5 6 8.6 7.5 9.2 11L8.8 20L2.1 20Z"/></g></svg>')


@pytest.fixture(scope="module")
def bought(tmp_path_factory):
    path = tmp_path_factory.mktemp("bought") / "top.pdf"
    print_pattern(small_dress(), path, "a4")
    return path.read_bytes()


@pytest.fixture
def room(tmp_path):
    room = Workroom.open(tmp_path / "room")
    yield room
    room.close()


@pytest.fixture
def client(room):
    return script(create_app(room))


def bring(client, data, name="top.pdf", **more):
    answer = client.post("/patterns/new", files={"file": (name, data)}, data=more)
    assert answer.status_code == 200, answer.text
    return answer.json()


@pytest.fixture
def brought(client, room, bought):
    """The small dress, brought in and read."""
    found = bring(client, bought)
    assert client.finish(found["job"])["state"] == "done"
    return room.get(found["pattern"])


def rename(client, room, thing, *rows):
    """Rows of names, changed as the page changes them."""
    answer = client.post(f"/pattern/{thing.id}/rows", json={"rows": rows})
    assert answer.status_code == 200, answer.text
    asked = {"base": room.get(thing.id).revision, "set": answer.json()["set"], "words": "named"}
    assert client.post(f"/things/{thing.id}/change", json=asked).status_code == 200
    return answer.json()["set"]


def labels(room, thing):
    return labels_from(room.get(thing.id).document.labels)


def place_of(labels, piece, edge):
    at = [p.name for p in labels.pieces].index(piece)
    return at, [e.name for e in labels.pieces[at].edges].index(edge)


def text_of(client, path):
    return unescape(client.get(path, headers={"accept": "text/html"}).text)


def test_a_file_is_kept_read_and_called_as_on_the_sheet(client, room, bought, brought):
    doc = brought.document
    assert room.file(doc.file.sha) == bought
    assert doc.name == "Concert dress" and doc.labels is None and not doc.confirmed
    assert {p.name for p in unpack_reading(room.kept(reading_key(doc))).labels.pieces} == {"bodice front",
                                                                                             "bodice back"}
    page = text_of(client, f"/pattern/{brought.id}")
    assert "2 pieces in 3 sizes, 4 to 6." in page and "true to scale" in page
    assert client.get(f"/pattern/{brought.id}/picture").text.count("<path") == 2
    assert client.get(f"/pattern/{brought.id}/file").content == bought


def test_the_same_file_twice_is_the_same_pattern(client, room, bought, brought):
    assert bring(client, bought, "again.pdf") == {"pattern": brought.id, "job": ""}
    assert len(room.things(Kind.PATTERN)) == 1


def test_a_wrong_file_is_refused_in_a_sentence_and_kept(client, room):
    found = bring(client, b"Dear choir, the pattern comes on Monday.", "letter.pdf")
    ended = client.finish(found["job"])
    assert ended["state"] == "failed" and "is a text, not a drawing" in ended["error"]["text"]
    doc = room.get(found["pattern"]).document
    assert room.file(doc.file.sha).startswith(b"Dear choir")
    assert "letter.pdf" in text_of(client, f"/pattern/{found['pattern']}")


def test_an_empty_file_and_no_file_are_refused(client, room):
    for more in ({"files": {"file": ("top.pdf", b"")}}, {"data": {"file": "top.pdf"}, "files": {"other": b"x"}}):
        answer = client.post("/patterns/new", **more)
        assert answer.status_code == 422 and answer.json()["error"]["text"].endswith((".",))
    assert room.things(Kind.PATTERN) == ()


def test_a_make_gets_the_pattern_that_is_dropped_on_its_page(client, room, brought):
    make = room.add(Kind.MAKE, MakeDoc("Blouse"), "begun")
    assert "Concert dress" in text_of(client, f"/make/{make.id}/pattern")
    assert client.post(f"/make/{make.id}/pattern/{brought.id}").status_code == 200
    assert room.get(make.id).document.pattern == brought.id
    other = bring(client, SQUARES, "odd.svg", make=make.id)
    client.finish(other["job"])
    assert room.get(make.id).document.pattern == other["pattern"]
    assert "Settled, on to" in text_of(client, f"/make/{make.id}/pattern")


def test_a_renamed_edge_takes_its_seams_along(client, room, brought):
    guessed = unpack_reading(room.kept(reading_key(brought.document))).labels
    at, edge = place_of(guessed, "bodice front", "shoulder")
    first = rename(client, room, brought, [["pieces", str(at), "edges", str(edge), "name"], "shoulder seam"])
    assert [path for path, _ in first] == [["labels"]]
    now = labels(room, brought)
    assert now.pieces[at].edges[edge].name == "shoulder seam"
    seam = next(s.seam for s in now.seams if s.seam.name == "shoulder")
    assert {r.edge for r in (*seam.a, *seam.b)} == {"shoulder seam", "shoulder"}
    second = rename(client, room, brought, [["pieces", str(at), "name"], "front"])
    assert ["labels", "pieces", str(at), "name"] in [path for path, _ in second] and len(second) > 1
    job = client.post(f"/pattern/{brought.id}/read").json()["job"]
    assert client.finish(job)["state"] == "done"
    sewn = unpack_reading(room.kept(reading_key(room.get(brought.id).document))).pattern.garments[0]
    assert sewn.piece("front").has_edge("shoulder seam")
    assert "front: shoulder seam" in text_of(client, f"/pattern/{brought.id}")


@pytest.mark.parametrize("edge, value, said", [
    ("name", "waist", "two separate edges"), ("name", "  ", "cannot be empty"), ("kind", "glued", "cannot be used"),
    ("allowance", {"length": "15", "unit": "cm"}, "not wider than"), ("allowance", {"length": "wide", "unit": "cm"},
                                                                       "cannot be read as a length")])
def test_what_cannot_be_meant_is_refused_and_nothing_is_saved(client, room, brought, edge, value, said):
    guessed = unpack_reading(room.kept(reading_key(brought.document))).labels
    at, number = place_of(guessed, "bodice front", "armhole")
    answer = client.post(f"/pattern/{brought.id}/rows", json={
        "rows": [[["pieces", str(at), "edges", str(number), edge], value]]})
    assert answer.status_code == 422 and said in answer.json()["error"]["text"]
    assert room.get(brought.id) == brought


@pytest.mark.parametrize("path, value, said", [
    ([], "x", "load the page again"), (["pieces", "99", "name"], "x", "cannot be changed"),
    (["allowance"], None, "load the page again"), (["chart", "bust girth"], 3, "load the page again"),
    (["chart", "bust girth"], [1000], "3 sizes"), (["chart", "beard"], [1000], "no measure called"),
    (["pieces"], "x", "cannot be used"), (["seams", "+"], {"seam": 3}, "cannot be used")])
def test_a_change_that_does_not_fit_is_refused(client, room, brought, path, value, said):
    answer = client.post(f"/pattern/{brought.id}/rows", json={"rows": [[path, value]]})
    assert answer.status_code in (404, 422) and said in answer.json()["error"]["text"]
    assert room.get(brought.id) == brought


def test_two_darts_of_a_piece_have_two_names(client, brought):
    front = next(n for n, p in enumerate(client.get(f"/pattern/{brought.id}/pieces").json()["pieces"])
                 if p["name"] == "bodice front")
    answer = client.post(f"/pattern/{brought.id}/rows", json={"rows": [
        [["pieces", str(front), "darts", "0"], "dart"], [["pieces", str(front), "darts", "1"], "dart"]]})
    assert answer.status_code == 422 and "Two darts" in answer.json()["error"]["text"]


def test_an_edge_says_in_which_seam_it_is(client, brought):
    page = text_of(client, f"/pattern/{brought.id}")
    assert "in seam shoulder" in page and "in no seam yet" in page


def test_allowances_follow_the_usual_one_and_the_fold(client, room, brought):
    guessed = unpack_reading(room.kept(reading_key(brought.document))).labels
    at, edge = place_of(guessed, "bodice front", "armhole")
    rename(client, room, brought, [["allowance"], {"length": "5/8", "unit": "in"}])
    assert labels(room, brought).pieces[at].edges[edge].allowance == pytest.approx(15.875)
    rename(client, room, brought, [["pieces", str(at), "edges", str(edge), "kind"], "fold"])
    assert labels(room, brought).pieces[at].edges[edge].allowance == 0
    rename(client, room, brought, [["pieces", str(at), "edges", str(edge), "kind"], "hem"])
    assert labels(room, brought).pieces[at].edges[edge].allowance == pytest.approx(15.875)


def test_a_chart_is_typed_in_and_follows_the_names_of_sizes(client, room):
    thing = bring(client, SQUARES, "odd.svg")
    client.finish(thing["job"])
    thing = room.get(thing["pattern"])
    assert "Type in what stands on the envelope" in text_of(client, f"/pattern/{thing.id}")
    rename(client, room, thing, [["chart", "bust girth"], [{"length": "36", "unit": "in"}]])
    rename(client, room, thing, [["sizes", "0", "1"], "12"])
    chart = labels(room, thing).chart
    assert chart.value("bust girth", "12") == pytest.approx(914.4)
    answer = client.post(f"/pattern/{thing.id}/rows", json={
        "rows": [[["chart", "waist girth"], [{"length": "7,2", "unit": "cm"}]]]})
    assert answer.status_code == 422 and "no body can have" in answer.json()["error"]["text"]
    rename(client, room, thing, [["chart", "bust girth"], None])
    assert labels(room, thing).chart is None


def test_guesses_that_are_right_are_not_read_again(client, room, brought):
    before = unpack_reading(room.kept(reading_key(brought.document)))
    assert rename(client, room, brought) == [[["labels"], plain_labels(before.labels)]]
    assert client.post(f"/pattern/{brought.id}/read").json() == {"job": ""}
    after = unpack_reading(room.kept(reading_key(room.get(brought.id).document)))
    assert after.pattern == before.pattern and after.confirmed and not before.confirmed


def test_seams_are_taken_out_and_sewn(client, room, brought):
    guessed = unpack_reading(room.kept(reading_key(brought.document))).labels
    rename(client, room, brought, [["seams", "0"], None])
    assert [s.seam.name for s in labels(room, brought).seams] == [s.seam.name for s in guessed.seams[1:]]
    again = plain_labels(guessed)["seams"][0]
    rename(client, room, brought, [["seams", "+"], again])
    assert labels(room, brought).seams[-1] == guessed.seams[0]
    answer = client.post(f"/pattern/{brought.id}/rows", json={"rows": [[["seams", "+"], again]]})
    assert answer.status_code == 422 and "Two seams are called" in answer.json()["error"]["text"]


def test_two_people_name_different_pieces_at_once(room):
    made = small_labels()
    doc = PatternDoc("top", None, plain_labels(made))
    thing = room.add(Kind.PATTERN, doc, "added")
    one = rows_for(doc, made, [(("pieces", "0", "cut", "cloth"), "lining")])
    other = rows_for(doc, made, [(("pieces", "1", "cut", "cloth"), "lining")])
    room.change(thing.id, thing.revision, one, "one")
    room.change(thing.id, thing.revision, other, "other")
    assert [p.cut.cloth for p in labels(room, thing).pieces] == ["lining", "lining"]


def small_labels():
    return read_toml(b"""name = "top"
[sizes]
1 = "1"
[[piece]]
printed = "a"
name = "a"
edges = [{name = "side"}, {name = "hem"}]
[[piece]]
printed = "b"
name = "b"
edges = [{name = "side"}, {name = "hem"}]
""")


def test_names_go_out_as_a_file_and_come_in_again(client, room, brought):
    out = client.get(f"/pattern/{brought.id}/labels.toml")
    assert 'filename="concert-dress-labels.toml"' in out.headers["content-disposition"]
    text = out.text.replace('name = "bodice front"', 'name = "my front"').replace("bodice front: ", "my front: ")
    job = client.post(f"/pattern/{brought.id}/labels", files={"file": ("mine.toml", text.encode())}).json()["job"]
    assert client.finish(job)["state"] == "done"
    assert "my front" in {p.name for p in labels(room, brought).pieces}
    assert as_toml(labels(room, brought)) == client.get(f"/pattern/{brought.id}/labels.toml").content


@pytest.mark.parametrize("wrong, said", [(b"name = ", "mine.toml"), (b'name = "x"\n[sizes]\n9 = "9"\n', "size")])
def test_names_that_do_not_fit_are_not_taken(client, room, brought, wrong, said):
    answer = client.post(f"/pattern/{brought.id}/labels", files={"file": ("mine.toml", wrong)})
    text = answer.json()["error"]["text"] if answer.status_code == 422 else \
        client.finish(answer.json()["job"])["error"]["text"]
    assert said in text
    assert room.get(brought.id) == brought


def test_the_other_sizes_lie_under_a_piece(client, brought):
    picture = client.get(f"/pattern/{brought.id}/pieces?size=5").json()
    assert {p["name"] for p in picture["pieces"]} == set(picture["nest"])
    assert all(picture["nest"][p["name"]].count("C") > p["seam"].count("C") for p in picture["pieces"])


def test_a_name_must_be_one(room):
    with pytest.raises(InputError, match="cannot be empty"):
        rows_for(PatternDoc("top"), small_labels(), [(("pieces", "0", "name"), " ")])


def test_tissue_measured_with_a_tape_is_brought_in_as_a_flat_sheet(client, room):
    sheet = ('garment = "skirt"\nsize = "14"\n[lengths]\n"waist front" = 20.4\n"waist back" = 19.9\n'
             '"hip front" = 26.9\n"hip back" = 26.9\n')
    found = bring(client, sheet.encode(), "skirt.toml")
    assert client.finish(found["job"])["state"] == "done"
    page = text_of(client, f"/pattern/{found['pattern']}")
    assert "4 of 8 lengths taken." in page and "Enough for size" in page and "test square" not in page
    assert ".toml" in text_of(client, "/patterns")
    wrong = bring(client, sheet.replace('"hip back"', '"hip bakc"').encode(), "wrong.toml")
    ended = client.finish(wrong["job"])
    assert ended["state"] == "failed" and 'did you mean "hip back"' in ended["error"]["text"]
