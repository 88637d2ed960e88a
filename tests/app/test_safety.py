"""Each measure of safety round a small app, asked by a stranger."""

import asyncio

import httpx
import pytest
from loops import run
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.routing import Route

from toilewright.app.safety import BODY, POLICY, AddHeaders, Bodies, KnownHosts, OwnPages, Sentences, Tokens

HOST = "127.0.0.1:8765"
HERE = f"http://{HOST}"


async def taken(request):
    return PlainTextResponse(f"{len(await request.body())} bytes")


async def form(request):
    async with request.form() as fields:
        return PlainTextResponse(fields["word"])


def breaks(request):
    raise LookupError("/home/her/secret.py")


SITE = Starlette(routes=[Route("/", lambda request: PlainTextResponse("in")),
                         Route("/take", taken, methods=["POST"]), Route("/form", form, methods=["POST"]),
                         Route("/breaks", breaks)])


class WithToken:
    """Gives every request the token of a device."""

    def __init__(self, app):
        self.app = app

    async def __call__(self, scope, receive, send):
        Request(scope).state.csrf = "the token"
        await self.app(scope, receive, send)


def ask(app, method="GET", path="/", **more):
    async def once():
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app, raise_app_exceptions=False),
                                     base_url=HERE) as client:
            return await client.request(method, path, **more)
    return run(once())


def sentence_of(answer, status):
    assert answer.status_code == status, answer.text
    text = answer.json()["error"]["text"]
    assert text.endswith(".") and "Traceback" not in text
    return text


JSON = {"accept": "application/json"}


# -- hosts ---------------------------------------------------------------------------------------------

HOSTS = Sentences(KnownHosts(SITE, lambda: {HOST, "localhost:8765"}))


@pytest.mark.parametrize("host", [HOST, "LOCALHOST:8765"])
def test_own_names_are_answered(host):
    assert ask(HOSTS, headers={"host": host}).text == "in"


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8765", "127.0.0.1", "127.0.0.1:80", "localhost", "",
                                  "127.0.0.1:8765.evil.example", "192.168.1.7:8765"])
def test_other_names_are_refused(host):
    assert "address" in sentence_of(ask(HOSTS, headers={"host": host, **JSON}), 421)


def test_a_request_with_two_names_is_refused():
    assert ask(HOSTS, headers=[("host", HOST), ("host", HOST)]).status_code == 421


# -- own pages only --------------------------------------------------------------------------------------

OWN = Sentences(OwnPages(SITE))


@pytest.mark.parametrize("headers", [
    {}, {"origin": HERE}, {"origin": HERE, "sec-fetch-site": "same-origin"}])
def test_own_pages_may_change_things(headers):
    assert ask(OWN, "POST", "/take", headers=headers).text == "0 bytes"


@pytest.mark.parametrize("headers", [
    {"origin": "http://evil.example"}, {"origin": "null"}, {"origin": "http://127.0.0.1:8766"},
    {"origin": "https://127.0.0.1:8765"}, {"sec-fetch-site": "cross-site"}, {"sec-fetch-site": "same-site"},
    {"sec-fetch-site": "none"}, {"origin": HERE, "sec-fetch-site": "cross-site"}])
@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH"])
def test_other_pages_may_not(headers, method):
    assert "own pages" in sentence_of(ask(OWN, method, "/take", headers=headers | JSON), 403)


def test_anybody_may_ask_for_a_page():
    assert ask(OWN, headers={"sec-fetch-site": "cross-site"}).text == "in"


# -- tokens ----------------------------------------------------------------------------------------------

TOKENS = Sentences(WithToken(Tokens(SITE)))
FORM = {"content-type": "application/x-www-form-urlencoded"}


def test_the_token_opens_as_header_and_as_field():
    assert ask(TOKENS, "POST", "/take", headers={"x-toilewright": "the token"}).text == "0 bytes"
    assert ask(TOKENS, "POST", "/form", headers=FORM, content="csrf=the+token&word=seam").text == "seam"


@pytest.mark.parametrize("headers, body", [
    ({}, ""), ({"x-toilewright": ""}, ""), ({"x-toilewright": "the tokem"}, ""), ({"x-toilewright": "the toke"}, ""),
    (FORM, "word=seam"), (FORM, "csrf=another&word=seam"), ({"content-type": "text/plain"}, "csrf=the+token"),
    ({"cookie": "csrf=the token"}, "")])
def test_nothing_else_does(headers, body):
    answer = ask(TOKENS, "POST", "/form", headers=headers | JSON, content=body)
    assert "load it again" in sentence_of(answer, 403)


def test_who_has_no_token_cannot_show_none():
    assert ask(Sentences(Tokens(SITE)), "POST", "/take", headers={"x-toilewright": ""}).status_code == 403


def test_a_plain_form_without_end_is_not_held_in_memory():
    body = "word=" + "a" * 100_000 + "&csrf=the+token"
    assert ask(TOKENS, "POST", "/form", headers=FORM, content=body).status_code == 413


# -- bodies ----------------------------------------------------------------------------------------------


def test_a_large_body_is_refused_before_it_is_read():
    answer = ask(Sentences(Bodies(SITE)), "POST", "/take", headers=JSON, content=b"a" * (BODY + 1))
    assert "1 MB" in sentence_of(answer, 413)
    assert ask(Sentences(Bodies(SITE)), "POST", "/take", content=b"a" * BODY).text == f"{BODY} bytes"


def test_a_body_that_does_not_say_its_size_is_read_no_farther_than_allowed():
    sent = []

    async def chunks():
        for _ in range(100):
            sent.append(1)
            yield b"a" * 100_000

    answer = ask(Sentences(Bodies(SITE)), "POST", "/take", headers=JSON, content=chunks())
    assert answer.status_code == 413
    assert len(sent) <= BODY // 100_000 + 2


def test_files_may_be_larger_and_a_whole_workroom_larger_still():
    kind = {"content-type": "multipart/form-data; boundary=x"}
    assert ask(Sentences(Bodies(SITE)), "POST", "/take", headers=kind, content=b"a" * 2 * BODY).status_code == 200
    asked = {**kind, "content-length": str(90_000_000)}
    assert ask(Sentences(Bodies(SITE)), "POST", "/take", headers=asked).status_code == 413
    larger = Bodies(SITE, lambda path: 100_000_000 if path == "/take" else 0)
    assert ask(Sentences(larger), "POST", "/take", headers=asked).status_code == 200


@pytest.mark.parametrize("said", ["-1", "many", "1e3"])
def test_a_size_that_is_no_number_is_refused(said):
    assert ask(Sentences(Bodies(SITE)), "POST", "/take", headers={"content-length": said}).status_code == 413


def test_a_body_that_does_not_come_is_not_waited_for():
    async def slow():
        yield b"a"
        await asyncio.sleep(3600)
        yield b"b"

    answer = ask(Sentences(Bodies(SITE, patience=0.05)), "POST", "/take", content=slow())
    assert answer.status_code == 408
    assert "too long" in answer.text


def test_an_answer_may_take_as_long_as_it_likes_once_the_body_is_there():
    async def slow(request):
        await request.body()
        await asyncio.sleep(0.2)
        return PlainTextResponse(str(await request.is_disconnected()))

    app = Starlette(routes=[Route("/", slow, methods=["POST"])])
    assert ask(Sentences(Bodies(app, patience=0.05)), "POST", "/", content=b"a").text == "False"


# -- headers and sentences -------------------------------------------------------------------------------


@pytest.mark.parametrize("method, path", [("GET", "/"), ("GET", "/nowhere"), ("GET", "/breaks"), ("POST", "/take")])
def test_every_answer_carries_the_policy(method, path, capsys):
    headers = ask(AddHeaders(Sentences(SITE)), method, path).headers
    assert headers["content-security-policy"] == POLICY
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert "default-src 'none'" in POLICY and "unsafe" not in POLICY and "*" not in POLICY


def test_an_answer_keeps_its_own_rule_for_keeping():
    app = Starlette(routes=[Route("/", lambda r: PlainTextResponse("a", headers={"cache-control": "no-cache"}))])
    assert ask(AddHeaders(app)).headers["cache-control"] == "no-cache"


def test_a_page_that_is_left_while_it_asks_is_no_fault(capsys):
    async def gone():
        return {"type": "http.disconnect"}

    async def nowhere(message):
        pass

    scope = {"type": "http", "method": "POST", "path": "/take", "headers": [], "query_string": b"", "root_path": ""}
    run(Sentences(SITE)(scope, gone, nowhere))
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("accept", ["text/html", "application/json"])
def test_a_fault_of_ours_is_one_sentence_without_places(accept, capsys):
    async def broken(scope, receive, send):
        raise LookupError("/home/her/secret.py")

    answer = ask(Sentences(broken), headers={"accept": accept})
    assert answer.status_code == 500
    assert "no fault of yours" in answer.text
    assert "secret" not in answer.text and "Traceback" not in answer.text
    said = capsys.readouterr().err
    assert "LookupError" in said and "secret" not in said
