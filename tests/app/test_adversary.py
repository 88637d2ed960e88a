"""Strangers at the worktable: pages of others, hostile bodies, names full of markup, files that point elsewhere."""

import contextlib
import json
import re
import stat
import sys
import threading
from concurrent.futures import ThreadPoolExecutor

import httpx
import pytest
from bad_input.sheets import BOX, SVG
from test_server import PATIENCE, Program

from toilewright.app.doors import Doors
from toilewright.app.reader import read_file
from toilewright.app.running import Lock
from toilewright.app.site import create_app
from toilewright.errors import InputError
from toilewright.workroom.store import Workroom

JSON = {"accept": "application/json"}
HOSTILE = "\"'><script>alert(1)</script><img src=x onerror=alert(1)>{{7*7}}"
STEPS = ("measure", "pattern", "size", "alter", "walk", "print", "cards", "diary", "true-scale")
ODD = ("%00", "..%2f..%2fworkroom.db", "%ff%fe", "%ED%A0%80", "x" * 3000, "%0d%0aX-Evil:1",
       "%22%3E%3Cscript%3E", "__proto__")
DEEP = "[" * 50_000 + "]" * 50_000


@pytest.fixture(scope="module")
def program(tmp_path_factory):
    folder = tmp_path_factory.mktemp("home")
    folder.chmod(0o755)
    one = Program(folder, "--port", "0", "--demo")
    yield one
    one.end()
    one.process.stdout.close()


@pytest.fixture(scope="module")
def hers(program):
    with program.come_in() as one:
        one.headers.update(JSON)
        yield one


@pytest.fixture(scope="module")
def make_id(hers):
    return re.search(r'href="/make/([\w-]+)', hers.get("/", headers={"accept": "text/html"}).text)[1]


@pytest.fixture(scope="module")
def site_routes(tmp_path_factory):
    with contextlib.closing(Workroom.open(tmp_path_factory.mktemp("routes"))) as room:
        return [(r.path, r.methods) for r in create_app(room).routes if hasattr(r, "methods")]


def at(path, thing_id):
    """An address of a route: this thing, and nothing known in its other places."""
    return re.sub(r"\{[^}]*\}", "x", path.replace("{id}", thing_id))


# -- doors -----------------------------------------------------------------------------------------------


def test_no_route_answers_without_a_device_or_changes_anything_without_its_token(program, hers, site_routes):
    with httpx.Client(base_url=program.root, timeout=PATIENCE, headers=JSON) as stranger:
        for path, methods in site_routes:
            where = at(path, "x")
            for method in (*methods, "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"):
                for cookie in ("", "toilewright-00000000=x; unit=in"):
                    answer = stranger.request(method, where, headers={"cookie": cookie})
                    assert answer.status_code == 401, (method, path)
            if "POST" in methods:
                for more in ({"x-toilewright": ""}, {"origin": "http://evil.example"}, {"origin": "null"},
                             {"sec-fetch-site": "same-site"}, {"host": "evil.example"}):
                    for body in ({"content": b"{}", "headers": {"content-type": "text/plain", **more}},
                                 {"data": {"a": "b"}, "headers": more}):
                        assert hers.post(where, **body).status_code in (403, 421), (path, more)


def test_nothing_but_the_files_of_the_pages_is_found_under_static(program):
    with httpx.Client(base_url=program.root, timeout=PATIENCE) as stranger:
        for path in ("../server.py", "%2e%2e/server.py", "..%2f..%2f..%2f..%2fetc/passwd", "%00", "/etc/passwd", "css",
                     "%5c..%5cserver.py", "css/%2e%2e/%2e%2e/safety.py", "x" * 5000):
            assert stranger.get(f"/static/{path}").status_code in (401, 404, 405), path


def test_one_key_used_by_many_at_the_same_moment_lets_one_in(tmp_path):
    with contextlib.closing(Workroom.open(tmp_path)) as room:
        doors = Doors(room)
        for turn in range(20):
            key, ready = doors.new_key(), threading.Barrier(8)
            names = [f"{turn} {k}" for k in range(8)]

            def come(who, key=key, ready=ready):
                ready.wait()
                return doors.use(key, who)

            with ThreadPoolExecutor(8) as pool:
                assert sum(pool.map(come, names)) == 1


def test_a_page_of_others_can_neither_shut_her_out_nor_use_her_key(program):
    there = Lock(program.folder).find()
    with httpx.Client(timeout=PATIENCE, headers=JSON) as other:
        for site in ("cross-site", "same-site"):
            for key in (*("wrong",) * 12, there.partition("key=")[2]):
                answer = other.get(f"{program.root}in?key={key}", headers={"sec-fetch-site": site})
                assert answer.status_code == 403 and "set-cookie" not in answer.headers
    with httpx.Client(timeout=PATIENCE) as hers_too:
        answer = hers_too.get(there, headers={"sec-fetch-site": "none"})
        assert answer.status_code == 303
        assert {"httponly", "samesite=strict"} <= {p.strip().lower() for p in answer.headers["set-cookie"].split(";")}


# -- hostile requests --------------------------------------------------------------------------------------


def change(value, base="1", words='"x"'):
    return f'{{"base":{base},"set":[[["title"],{value}]],"words":{words}}}'


BODIES = (
    "", "null", "[]", '"x"', "{", "\udcff", DEEP, change(DEEP), change("NaN"), change("1e999"), change("1e308"),
    change("9" * 400), change('"\\ud800"'), change('"\\u0000"'), change('"x"', base=str(10**30)),
    change('"x"', base=str(2**63 - 1)), change('"x"', base="-1"), change('"x"', words=json.dumps("x" * 50_000)),
    change('{"length":[1],"unit":"cm"}'), change('{"length":"1","unit":{}}'), change('{"length":"nan","unit":"cm"}'),
    change('{"length":"1/0","unit":"cm"}'), change('{"length":' + "9" * 400 + ',"unit":"cm"}'),
    '{"base":1,"set":[[[],{}]],"words":"x"}', '{"base":1,"set":[[["__class__"],{}]],"words":"x"}',
    '{"base":1,"set":[[["diary","+"],{"id":5}]],"words":"x"}', '{"base":1,"set":[[["diary"],{"a":1}]],"words":"x"}',
    f'{{"base":1,"set":[{",".join(["[[],1]"] * 100_000)}],"words":"x"}}', '{"unit":["cm"]}', '{"theme":"\\ud800"}',
    '{"name":"../../../etc/passwd"}', '{"name":"\\u0000"}', '{"title":"x","pattern":"\\u0000","body":"<"}',
    '{"kind":"make","document":{"title":"x","body":"../x"},"words":"x"}',
    '{"base":1,"revision":99999999999999999999}')
FORMS = (b"", b"--x\r\n",
         b'--x\r\nContent-Disposition: form-data; name="file"; filename="\xff\x00<b>"\r\n\r\na\r\n--x--\r\n',
         b"--x\r\nContent-Disposition: form-data\r\n\r\na\r\n--x--\r\n",
         b'--x\r\nContent-Disposition: form-data; name="a"\r\n\r\na\r\n' * 3000 + b"--x--\r\n")


def test_no_body_brings_a_route_down(hers, make_id, site_routes):
    for path, methods in site_routes:
        if "POST" not in methods or path in ("/demo", "/devices/{way}"):
            continue
        for kind, bodies in (("application/json", [b.encode("utf-8", "surrogateescape") for b in BODIES]),
                             ("multipart/form-data; boundary=x", FORMS), ("multipart/form-data", FORMS)):
            for body in bodies:
                answer = hers.post(at(path, make_id), content=body, headers={"content-type": kind})
                assert answer.status_code < 500, (path, body[:120])
                assert "Traceback" not in answer.text
    assert hers.get(f"/things/{make_id}").status_code == 200


def test_no_address_brings_a_page_down_or_names_a_place_on_the_disk(program, hers, make_id, site_routes):
    for path, methods in site_routes:
        if "GET" not in methods:
            continue
        for odd in ODD if "{" in path else ():
            where = re.sub(r"\{[^}]*\}", lambda _, odd=odd: odd, path)
            answer = hers.get(where, headers={"cookie": f"{cookies(hers)}; unit=%00; theme=<b>"})
            assert answer.status_code < 500 and "x-evil" not in answer.headers, (path, odd)
            assert str(program.folder) not in answer.text and "Traceback" not in answer.text
        for query in ("size=%00", "sheet=%3Cscript%3Ealert(1)", "for=%3Cscript%3Ealert(1)", "choose=1"):
            answer = hers.get(f"{at(path, make_id)}?{query}", headers={"accept": "text/html"})
            assert answer.status_code < 500 and "<script>alert" not in answer.text, (path, query)


def cookies(client):
    return "; ".join(f"{name}={value}" for name, value in client.cookies.items())


def test_names_of_files_to_save_cannot_break_their_header(hers, program):
    for title in ('a"; filename="evil.exe', "übung \u202e/../..\\", "日本", "x" * 900):
        made = hers.post("/makes", json={"title": title})
        if made.status_code == 200:
            header = hers.get(f"/keeping/export/{made.json()['id']}").headers["content-disposition"]
            assert re.fullmatch(r'attachment; filename="[a-z0-9.-]+"', header), title
    for title in ("a\r\nX-Evil: 1", "a\x00b"):
        assert hers.post("/makes", json={"title": title}).status_code in (200, 422)


def test_a_picture_that_is_a_drawing_with_a_script_is_no_picture(hers):
    for data in (b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>', b"<html><script>alert(1)</script>"):
        assert hers.post("/pictures", files={"file": ("a.png", data, "image/png")}).status_code == 422
    page = b"GIF89a/*<script>alert(1)</script>*/"
    sha = hers.post("/pictures", files={"file": ("a.html", page, "text/html")}).json()["sha"]
    shown = hers.get(f"/pictures/{sha}")
    assert shown.headers["content-type"] == "image/gif" and shown.headers["x-content-type-options"] == "nosniff"


# -- what is left behind ---------------------------------------------------------------------------------------


@pytest.mark.skipif(sys.platform == "win32", reason="permissions of POSIX systems")
def test_what_is_written_is_hers_alone_in_a_folder_that_others_may_read(program, hers):
    assert stat.S_IMODE(program.folder.stat().st_mode) == 0o755
    files = [path for path in program.folder.rglob("*") if path.is_file()]
    assert len(files) > 2
    assert [path.name for path in files if stat.S_IMODE(path.stat().st_mode) & 0o077] == []


def test_no_secret_is_kept_in_the_store(program, hers):
    kept = b"".join(path.read_bytes() for path in program.folder.iterdir() if path.name.startswith("workroom.db"))
    assert len(kept) > 10_000
    for secret in (*hers.cookies.values(), hers.headers["x-toilewright"], program.key):
        assert not secret or secret.encode() not in kept


# -- files of strangers -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("begin, inside", [
    ('<!DOCTYPE svg [<!ENTITY x SYSTEM "file://{secret}">]>', "<text>&x;</text>"),
    ('<!DOCTYPE svg [<!ENTITY % x SYSTEM "file://{secret}">%x;]>', ""),
    ("", '<image href="file://{secret}"/><use href="file://{secret}#a"/>'),
    ("", '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="file://{secret}" parse="text"/>'),
    ('<?xml-stylesheet href="file://{secret}"?>', '<style>@import url("file://{secret}");</style>')])
def test_a_drawing_cannot_bring_in_another_file(tmp_path, begin, inside):
    secret = tmp_path / "secret.svg"
    secret.write_text("her diary")
    data = f"{begin}{SVG}{BOX}{inside}</svg>".replace("{secret}", str(secret)).encode()
    try:
        answer = read_file(data, "a.svg", None, lambda *_: None)
    except InputError as problem:
        answer = str(problem).encode()
    assert b"her diary" not in answer


def test_markup_in_what_she_types_stays_text_on_every_page(hers, program, make_id):
    thing = hers.get(f"/things/{make_id}").json()
    asked = {"base": thing["revision"], "words": HOSTILE, "set": [
        [["title"], HOSTILE], [["note"], HOSTILE],
        [["diary", "+"], {"date": "2024-05-01", "kind": "next time", "text": HOSTILE}]]}
    answer = hers.post(f"/things/{make_id}/change", json=asked)
    assert answer.status_code == 200, answer.text
    bad = {"kind": "cloth", "document": {"name": HOSTILE, "note": HOSTILE}, "words": HOSTILE}
    assert hers.post("/things", json=bad).status_code == 200
    for path in ("/", "/shelf", "/keeping", f"/thing/{make_id}/history", *(f"/make/{make_id}/{s}" for s in STEPS)):
        page = hers.get(path, headers={"accept": "text/html"}).text
        assert "script&gt;alert(1)" in page or "\\u003cscript" in page or path == "/shelf", path
        assert "<script>alert" not in page and "<img src=x" not in page and "49" * 2 not in page, path


@pytest.mark.parametrize("kind, entry, value", [
    ("body", "unit", "furlong"), ("body", "posture", [HOSTILE]), ("body", "note", HOSTILE),
    ("body", "sheets", [{"id": "a", "date": "yesterday", "waist_place": HOSTILE, "measures": {HOSTILE: 800.0}}]),
    ("body", "sheets", []), ("body", "alterations", [{"id": "a", "name": HOSTILE, "options": {HOSTILE: HOSTILE}}]),
    ("make", "papers", [HOSTILE]), ("make", "papers", []), ("make", "size", HOSTILE), ("make", "sizes", {HOSTILE: "x"}),
    ("make", "ease", {HOSTILE: -1e8}), ("make", "settled", {HOSTILE: "x"}), ("make", "sheet", HOSTILE),
    ("make", "cloths", ["../../x"]), ("make", "without", [HOSTILE]), ("make", "started_from", "../x"),
    ("make", "body", "../x"), ("make", "pattern", HOSTILE), ("pattern", "labels", {HOSTILE: HOSTILE}),
    ("pattern", "labels", {}), ("make", "diary", [{"id": "a", "date": HOSTILE, "kind": HOSTILE, "text": HOSTILE}]),
    ("make", "alterations", [{"id": "a", "name": HOSTILE, "amount": -1e9, "options": {"piece": HOSTILE}}])])
def test_no_value_that_is_kept_breaks_a_page(hers, make_id, kind, entry, value):
    make = hers.get(f"/things/{make_id}").json()
    thing_id = make_id if kind == "make" else make["document"][kind]
    thing = hers.get(f"/things/{thing_id}").json()
    asked = {"base": thing["revision"], "words": "x", "set": [[[entry], value]]}
    answer = hers.post(f"/things/{thing_id}/change", json=asked)
    assert answer.status_code in (200, 422), answer.text
    if answer.status_code == 422:
        return
    body, pattern = make["document"]["body"], make["document"]["pattern"]
    try:
        for path in ("/", "/bodies", "/patterns", "/shelf", "/keeping", f"/body/{body}", f"/pattern/{pattern}",
                     f"/thing/{thing_id}/history", *(f"/make/{make_id}/{step}" for step in STEPS)):
            page = hers.get(path, headers={"accept": "text/html"})
            assert page.status_code < 500, path
            assert "<script>alert" not in page.text and "<img src=x" not in page.text, path
    finally:
        base = hers.get(f"/things/{thing_id}").json()["revision"]
        assert hers.post(f"/things/{thing_id}/undo", json={"base": base}).status_code == 200
