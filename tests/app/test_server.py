"""The program as it runs: one real process, asked over real sockets."""

import asyncio
import contextlib
import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import threading
import time

import httpx
import pytest
from loops import run

from toilewright.app.home import HomeDoor, Server, listen
from toilewright.app.running import Lock
from toilewright.app.safety import POLICY
from toilewright.app.server import Worktable
from toilewright.errors import InputError
from toilewright.workroom.backups import back_up
from toilewright.workroom.documents import BodyDoc, Kind
from toilewright.workroom.store import Workroom

PATIENCE = 30


@contextlib.contextmanager
def come_in(root, where):
    """A browser that was let in, with the token of its pages."""
    with httpx.Client(base_url=root, headers={"origin": root}, timeout=PATIENCE) as browser:
        assert browser.get(where).status_code == 303
        browser.headers["x-toilewright"] = re.search(r'name="csrf" (?:content|value)="(\w{64})"',
                                                     browser.get("/").text)[1]
        yield browser


class Program:
    """A worktable over a store in a folder; `said` is everything that it wrote."""

    def __init__(self, folder, *words):
        self.folder = folder
        self.process = subprocess.Popen(
            [sys.executable, "-m", "toilewright", "worktable", "--no-browser", *words],
            env={**os.environ, "TOILEWRIGHT_HOME": str(folder), "PYTHONWARNINGS": "error"}, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, text=True)
        self.said = ""
        for line in self.process.stdout:
            self.said += line
            if found := re.search(r"(http://127\.0\.0\.1:(\d+)/)in\?key=(\S*)", line):
                self.root, self.port, self.key = found[1], int(found[2]), found[3]
                break

    def come_in(self):
        """A browser that was let in, with the token of its pages."""
        return come_in(self.root.rstrip("/"), Lock(self.folder).find())

    def end(self, number=signal.SIGTERM):
        self.process.send_signal(number)
        self.said += self.process.communicate(timeout=PATIENCE)[0]
        return self.process.returncode


@pytest.fixture
def started(tmp_path):
    """Starts programs that end with the test."""
    programs = []

    def start(*words, folder=tmp_path / "home"):
        programs.append(Program(folder, *words))
        return programs[-1]

    yield start
    for program in programs:
        if program.process.poll() is None:
            program.end(signal.SIGKILL)
        program.process.stdout.close()


@pytest.fixture(scope="module")
def program(tmp_path_factory):
    one = Program(tmp_path_factory.mktemp("home"), "--port", "0")
    yield one
    one.end()
    one.process.stdout.close()


@pytest.fixture(scope="module")
def browser(program):
    with program.come_in() as one:
        yield one


def routes(app):
    return sorted({re.sub(r"\{[^}]*\}", "x", route.path) for route in app.routes if hasattr(route, "path")})


def test_every_route_is_behind_the_door_and_under_the_policy(program, browser, tmp_path):
    from toilewright.app.site import create_app

    room = Workroom.open(tmp_path)
    paths = [path for path in routes(create_app(room)) if path != "/static"]
    room.close()
    assert len(paths) > 10
    with httpx.Client(base_url=program.root, timeout=PATIENCE) as stranger:
        for path in paths:
            assert stranger.get(path).status_code == 401, path
            for answer in (browser.get(path), stranger.post(path), browser.post(path, json={})):
                assert answer.headers["content-security-policy"] == POLICY, path
                assert answer.headers["x-content-type-options"] == "nosniff", path
                assert "server" not in answer.headers and "Traceback" not in answer.text, path


@pytest.mark.parametrize("more, status", [
    ({"host": "evil.example"}, 421), ({"origin": "http://evil.example"}, 403), ({"origin": "null"}, 403),
    ({"sec-fetch-site": "cross-site"}, 403), ({"x-toilewright": "0" * 64}, 403), ({"x-toilewright": ""}, 403),
    ({"cookie": ""}, 401), ({"cookie": "toilewright-00000000=x"}, 401)])
def test_a_stranger_changes_nothing(browser, more, status):
    answer = browser.post("/look", json={"unit": "in"}, headers={"accept": "application/json", **more})
    assert answer.status_code == status
    assert answer.json()["error"]["text"]
    assert "unit" not in answer.cookies


def test_her_own_page_does(browser):
    assert browser.post("/look", json={"unit": "cm"}).status_code == 200


def test_a_page_for_one_device_is_of_no_use_to_another(program, browser):
    with program.come_in() as other:
        assert other.headers["x-toilewright"] != browser.headers["x-toilewright"]
        other.headers["x-toilewright"] = browser.headers["x-toilewright"]
        assert other.post("/look", json={"unit": "cm"}).status_code == 403


def test_nothing_is_waited_for_that_is_too_large(program, browser):
    asked = http.client.HTTPConnection("127.0.0.1", program.port, timeout=PATIENCE)
    with contextlib.closing(asked):
        asked.putrequest("POST", "/things")
        for name, value in {**browser.headers, "cookie": "; ".join(f"{k}={v}" for k, v in browser.cookies.items()),
                            "content-length": "900000000"}.items():
            if name not in ("host", "accept-encoding"):
                asked.putheader(name, value)
        asked.endheaders()
        assert asked.getresponse().status == 413
    assert browser.get("/").status_code == 200


def test_from_elsewhere_it_cannot_be_reached(program):
    for address in ("127.0.0.2", socket.gethostbyname(socket.gethostname())):
        if address != "127.0.0.1":
            with pytest.raises(OSError), socket.create_connection((address, program.port), timeout=5):
                pass


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_it_ends_in_order_with_everything_saved_and_no_secret_told(started, number):
    program = started("--port", "0")
    with program.come_in() as browser:
        added = browser.post("/things", json={"kind": "body", "document": {"name": "a soprano"}, "words": "new"}).json()
        browser.get("/nowhere?key=abc")
        secrets = [*browser.cookies.values(), browser.headers["x-toilewright"], Lock(program.folder).find()[-43:]]
        told = (program.folder / "worktable.json").read_text(encoding="ascii")
        assert program.end(number) == 0
    room = Workroom.open(program.folder)
    assert room.get(added["id"]).document.name == "a soprano"
    room.close()
    assert program.said.count("\n") == 1 and "Ctrl-C" in program.said
    kept = [p for p in program.folder.iterdir() if p.is_file()]
    data = b"".join(p.read_bytes() for p in kept) + program.said.encode()
    assert "worktable.json" not in {p.name for p in kept}
    assert told not in data.decode(errors="replace")
    for secret in secrets:
        assert secret.encode() not in data


def test_her_browser_is_given_the_key_and_nobody_else(tmp_path):
    (tmp_path / "noted").touch()
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\necho "$1" > {tmp_path / "noted"}\n', encoding="utf-8")
    browser.chmod(0o755)
    program = subprocess.Popen(
        [sys.executable, "-m", "toilewright", "worktable", "--port", "0"], stdout=subprocess.PIPE, text=True,
        env={**os.environ, "TOILEWRIGHT_HOME": str(tmp_path / "home"), "BROWSER": f"{browser} %s"})
    try:
        said = program.stdout.readline()
        for _ in range(200):
            if noted := (tmp_path / "noted").read_text(encoding="utf-8").strip():
                break
            time.sleep(0.05)
        root = re.search(r"http://127\.0\.0\.1:\d+/", said)[0]
        assert "key" not in said
        assert noted.startswith(f"{root}in?key=")
        assert httpx.get(noted).status_code == 303
    finally:
        program.terminate()
        rest = program.communicate(timeout=PATIENCE)[0]
    assert rest == ""


def test_a_second_start_finds_the_first(started):
    first = started("--port", "0")
    second = started("--port", "0")
    assert second.process.wait(PATIENCE) == 0
    assert second.port == first.port and second.key != first.key
    assert (os.stat(first.folder / "worktable.json").st_mode & 0o077) == 0
    with httpx.Client(base_url=first.root) as browser:
        assert browser.get(f"/in?key={second.key}").status_code == 303
        assert browser.get("/").status_code == 200


def test_it_starts_again_after_it_was_cut_off(started):
    first = started("--port", "0")
    first.end(signal.SIGKILL)
    assert (first.folder / "worktable.json").exists()
    second = started("--port", "0")
    with second.come_in() as browser:
        assert browser.get("/").status_code == 200


def test_a_port_in_use_is_said(started, tmp_path):
    with contextlib.closing(listen("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        program = started("--port", str(port))
        assert program.process.wait(PATIENCE) == 2
        assert str(port) in program.said and program.said.count("\n") == 1
        with contextlib.closing(listen("127.0.0.1", port, else_any=True)) as other:
            assert other.getsockname()[1] != port


def test_an_answer_does_not_wait_for_the_browser_to_say_that_it_had_its_first_part():
    async def use():
        at_once = asyncio.get_running_loop().create_future()

        async def taken(_, writer):
            at_once.set_result(writer.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        async with await asyncio.start_server(taken, sock=listen("127.0.0.1", 0)) as server:
            _, writer = await asyncio.open_connection(*server.sockets[0].getsockname())
            assert await at_once
            writer.close()
            await writer.wait_closed()
    run(use())


def test_a_damaged_store_is_said_and_its_back_up_put_back(started, tmp_path):
    folder = tmp_path / "home"
    room = Workroom.open(folder)
    room.add(Kind.BODY, BodyDoc("an alto"), "new")
    back_up(room)
    room.close()
    store = folder / "workroom.db"
    store.write_bytes(b"torn " * 1000)
    program = started("--port", "0")
    assert "damaged" in program.said and program.said.count("\n") == 2
    with program.come_in() as browser:
        shown = browser.get("/bodies")
        assert "damaged" in shown.text and "Put back" in shown.text
        assert browser.post("/put-back", headers={"x-toilewright": ""}).status_code == 403
        done = browser.post("/put-back")
        assert done.status_code == 303
        assert browser.get(done.headers["location"]).headers["location"] == "/"
        assert "an alto" in browser.get("/bodies").text
    assert any(p.read_bytes().startswith(b"torn") for p in folder.glob("workroom-set-aside*"))


# -- the home network, for which another loopback address stands in ------------------------------------


async def hello(scope, receive, send):
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": b"hello", "more_body": True})
    if scope["path"] == "/long":
        await asyncio.sleep(PATIENCE)
    await send({"type": "http.response.body", "body": b""})


def test_the_home_door_is_closed_until_it_is_opened_and_cuts_everybody_off():
    async def use():
        door = HomeDoor(hello, 0, lambda: "127.0.0.2")
        assert not door.is_open and door.host == ""
        await door.open()
        await door.open()
        where = f"http://{door.host}"
        assert where.startswith("http://127.0.0.2:")
        async with httpx.AsyncClient(timeout=PATIENCE) as phone, phone.stream("GET", f"{where}/long") as answer:
            parts = answer.aiter_text()
            assert await anext(parts) == "hello"
            await asyncio.wait_for(door.close(), PATIENCE / 3)
            with pytest.raises(httpx.TransportError):
                await anext(parts)
            with pytest.raises(httpx.ConnectError):
                await phone.get(where)
        assert not door.is_open and door.host == ""
        await door.open()
        async with httpx.AsyncClient() as phone:
            assert (await phone.get(f"http://{door.host}/")).text == "hello"
        await door.close()

    run(use())


def no_network():
    raise InputError("This computer is in no home network.")


def test_without_a_home_network_it_stays_closed():
    async def use():
        door = HomeDoor(hello, 0, no_network)
        with pytest.raises(InputError):
            await door.open()
        assert not door.is_open
    run(use())


@contextlib.contextmanager
def worktable(folder, home="127.0.0.2"):
    """A worktable in a thread of this process, whose home network is another loopback address."""
    listening = listen("127.0.0.1", 0)
    with listening, Worktable(str(folder), folder, listening.getsockname()[1], "") as table:
        table.home = HomeDoor(table, table.port, lambda: home)
        table.app.state.home = table.home
        server = Server(table, listening)
        loop = asyncio.new_event_loop()

        async def serve():
            await server.run_until_told()
            await table.home.close()

        thread = threading.Thread(target=lambda: loop.run_until_complete(serve()))
        thread.start()
        try:
            yield table
        finally:
            loop.call_soon_threadsafe(lambda: server.close(at_once=True))
            thread.join(PATIENCE)
            loop.close()


def at_the_laptop(table):
    return come_in(f"http://127.0.0.1:{table.port}", table.address())


def test_a_phone_comes_in_by_the_code_and_is_out_when_the_door_closes(tmp_path):
    with worktable(tmp_path) as table, at_the_laptop(table) as laptop:
        assert laptop.get("/devices/code.svg").status_code == 404
        with pytest.raises(httpx.ConnectError):
            httpx.get(f"http://127.0.0.2:{table.port}/")
        assert laptop.post("/devices/open").status_code == 303
        shown = laptop.get("/devices").text
        code = re.search(r"\b\w{4}-\w{4}-\w{4}\b", shown)[0]
        home = re.search(r"http://127\.0\.0\.2:\d+", shown)[0]
        assert "not encrypted" in shown
        picture = laptop.get("/devices/code.svg")
        assert picture.headers["content-type"] == "image/svg+xml" and "<svg" in picture.text
        assert httpx.get(f"{home}/").status_code == 401
        assert httpx.get(f"{home}/", headers={"host": "evil.example"}).status_code == 421
        with come_in(home, f"/in?key={code}") as phone:
            assert code not in laptop.get("/devices").text
            assert httpx.get(f"{home}/in?key={code}").status_code == 403
            assert phone.get("/devices").status_code == 200
            for way in ("open", "close", "code", "show-out", "rename"):
                assert phone.post(f"/devices/{way}", headers={"accept": "application/json"}).status_code == 422
            assert phone.get("/devices/code.svg", headers={"accept": "application/json"}).status_code == 422
            assert table.home.is_open
            assert laptop.post("/devices/close").status_code == 303
            with pytest.raises(httpx.TransportError):
                phone.get("/")
        assert laptop.get("/", headers={"host": home.removeprefix("http://")}).status_code == 421


def test_who_is_shown_out_is_out(tmp_path):
    with worktable(tmp_path) as table, at_the_laptop(table) as laptop, \
            at_the_laptop(table) as other:
        mine = table.doors.known(laptop.cookies[table.doors.cookie]).id
        theirs = table.doors.known(other.cookies[table.doors.cookie]).id
        for device in (mine, theirs):
            laptop.post("/devices/show-out", data={"device": device})
        assert other.get("/").status_code == 401
        assert laptop.get("/").status_code == 200  # nobody shows herself out by a slip
        laptop.post("/devices/rename", data={"device": mine, "name": "the kitchen table"})
        assert "the kitchen table" in laptop.get("/devices").text


def test_hostile_files_leave_the_program_running(tmp_path):
    from toilewright.app.reader import Bounds, read_file

    with worktable(tmp_path) as table, at_the_laptop(table) as laptop:
        work = table.app.state.table.work
        job = work.start("Reading", lambda progress: read_file(b"%PDF-1.7\n" + bytes(100), "evil.pdf", None, progress,
                                                               Bounds(memory=1 << 20)))
        text = laptop.get(f"/jobs/{job}/events").text
        assert text.count("event: failed") == 1 and "evil.pdf" in text
        assert laptop.get("/").status_code == 200

