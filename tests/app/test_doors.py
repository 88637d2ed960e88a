"""Pairing: keys that are good once and for a while, devices that are known by a cookie and can be shown out."""

import json

import httpx
import pytest
from loops import run
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse
from starlette.routing import Route

from toilewright.app.doors import GOOD_FOR, GUESSES, GUESSING, MOST_DEVICES, Door, Doors, token_for
from toilewright.app.safety import Sentences

HERE, HOME = "http://127.0.0.1:8765", "http://192.168.1.7:8765"


class Room:
    def __init__(self):
        self.values = {}

    def setting(self, name, default=""):
        return self.values.get(name, default)

    def set_setting(self, name, value):
        self.values[name] = value


class Clock:
    now = 1_800_000_000.0

    def __call__(self):
        return self.now


def me(request: Request):
    return JSONResponse({"device": request.state.device, "csrf": request.state.csrf})


SITE = Starlette(routes=[Route("/", me), Route("/static/base.css", lambda r: JSONResponse({}))])


@pytest.fixture
def room():
    return Room()


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def doors(room, clock):
    return Doors(room, clock=clock)


@pytest.fixture
def browser(doors):
    """Asks as one browser on this machine: ``browser(path)``."""
    return Browser(doors)


class Browser:
    def __init__(self, doors, here=HERE, agent="", who="127.0.0.1"):
        self.app = Sentences(Door(SITE, doors, "knock knock"))
        self.here, self.agent, self.who, self.cookies = here, agent, who, httpx.Cookies()

    def __call__(self, path, method="GET", **more):
        async def once():
            transport = httpx.ASGITransport(self.app, client=(self.who, 5000))
            async with httpx.AsyncClient(transport=transport, base_url=self.here, cookies=self.cookies,
                                         headers={"user-agent": self.agent}) as client:
                answer = await client.request(method, path, **more)
                self.cookies = client.cookies
                return answer
        return run(once())


def test_a_stranger_sees_one_sentence_and_no_page(browser):
    answer = browser("/")
    assert answer.status_code == 401
    assert "not been let in" in answer.text and "csrf" not in answer.text
    assert browser("/", headers={"accept": "application/json"}).json()["error"]["text"].endswith(".")
    assert browser("/", "POST").status_code == 401
    assert browser("/static/base.css").status_code == 200
    assert browser("/static/base.css", "POST").status_code == 401


def test_a_key_lets_one_browser_in_for_good(doors, browser):
    answer = browser(f"/in?key={doors.new_key()}")
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie and "samesite=strict" in cookie and "path=/" in cookie
    assert browser("/").json()["device"] == "this computer"


def test_the_token_of_the_pages_goes_with_the_cookie(doors, browser):
    other = Browser(doors)
    for one in (browser, other):
        one(f"/in?key={doors.new_key()}")
    first, second = browser("/").json()["csrf"], other("/").json()["csrf"]
    assert first != second
    assert first == token_for(browser.cookies[doors.cookie])


def test_a_key_is_good_once(doors, browser):
    key = doors.new_key()
    assert browser(f"/in?key={key}").status_code == 303
    answer = Browser(doors)(f"/in?key={key}")
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


@pytest.mark.parametrize("make", [Doors.new_key, Doors.new_code])
def test_a_key_is_good_for_a_while(doors, clock, make):
    key, late = make(doors), make(doors)
    clock.now += GOOD_FOR - 1
    assert doors.is_good(key)
    assert doors.use(key, "a")
    clock.now += 1
    assert not doors.is_good(late)
    assert not doors.use(late, "a")


def test_a_code_can_be_typed_as_she_likes_and_taken_back(doors):
    assert doors.use(doors.new_code().lower().replace("-", " "), "a")
    code = doors.new_code()
    doors.forget_key(code)
    assert not doors.use(code, "a")


@pytest.mark.parametrize("key", ["", "x", "0" * 12, "a" * 43, "é" * 12])
def test_what_was_not_given_out_opens_nothing(browser, key):
    assert browser("/in", params={"key": key}).status_code == 403


def test_after_some_guesses_nobody_listens_for_a_while(doors, clock):
    code = doors.new_code()
    thief = Browser(doors, HOME, who="192.168.1.66")
    for k in range(GUESSES):
        assert thief(f"/in?key=GUESS{k}").status_code == 403
    assert thief(f"/in?key={code}").status_code == 429
    assert Browser(doors, HOME, who="192.168.1.20")(f"/in?key={code}").status_code == 303  # others are not kept out
    clock.now += GUESSING + 1
    assert thief("/in?key=AGAIN").status_code == 403


def test_who_comes_again_stays_the_same_device(doors, browser):
    browser(f"/in?key={doors.new_key()}")
    browser(f"/in?key={doors.new_key()}")
    assert len(doors.devices) == 1
    assert browser("/in?key=old").status_code == 303  # a reload of the first page


def test_who_is_shown_out_has_to_knock_again(doors, browser):
    browser(f"/in?key={doors.new_key()}")
    doors.show_out(doors.devices[0].id)
    assert browser("/").status_code == 401
    assert doors.devices == ()


@pytest.mark.parametrize("agent, name", [
    ("Mozilla/5.0 (Linux; Android 15) Mobile Safari", "a phone"), ("Mozilla/5.0 (iPhone; CPU)", "a phone"),
    ("Mozilla/5.0 (iPad; CPU)", "a tablet"), ("Mozilla/5.0 (Linux; Android 15) Safari", "a tablet"),
    ("", "another computer")])
def test_a_device_in_the_home_is_named_by_what_it_is(doors, agent, name):
    Browser(doors, HOME, agent)(f"/in?key={doors.new_code()}")
    assert doors.devices[0].name == name


def test_devices_are_kept_without_what_lets_them_in(doors, browser, room, clock):
    key = doors.new_key()
    browser(f"/in?key={key}")
    kept = json.dumps(room.values)
    assert key not in kept
    assert browser.cookies[doors.cookie] not in kept
    again = Doors(room, clock=clock)
    assert again.cookie == doors.cookie
    assert again.known(browser.cookies[doors.cookie]) == doors.devices[0]


def test_a_program_elsewhere_with_the_same_store_has_devices_of_its_own(doors, browser, room):
    browser(f"/in?key={doors.new_key()}")
    other = Doors(room, "wardrobe")
    assert other.devices == () and other.cookie != doors.cookie


def test_names_and_last_visits_are_kept(doors, browser, room, clock):
    browser(f"/in?key={doors.new_key()}")
    device = doors.devices[0]
    doors.rename(device.id, "  her   laptop ")
    doors.rename(device.id, "   ")
    clock.now += 7200
    browser("/")
    kept = Doors(room, clock=clock).devices[0]
    assert kept.name == "her laptop"
    assert kept.seen > device.seen and kept.came == device.came


def test_devices_do_not_pile_up(doors, clock):
    tokens = []
    for _ in range(MOST_DEVICES + 1):
        clock.now += 1
        tokens.append(doors.let_in("a phone"))
    assert len(doors.devices) == MOST_DEVICES
    assert doors.known(tokens[0]) is None and doors.known(tokens[-1]) is not None


def test_a_second_start_gets_a_key_by_its_secret_alone(doors):
    local, home = Browser(doors), Browser(doors, HOME)
    secret = {"x-toilewright-knock": "knock knock"}
    assert doors.use(local("/knock", "POST", headers=secret).json()["key"], "a")
    assert local("/knock", "POST", headers={"x-toilewright-knock": "knock"}).status_code == 403
    assert local("/knock", "POST").status_code == 403
    assert home("/knock", "POST", headers=secret).status_code == 403
    assert local("/knock", headers=secret).status_code == 401
