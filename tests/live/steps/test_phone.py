"""A phone sends one note for one garment in ten minutes; it reads nothing and records nothing."""

import base64
import http.client
import json
import re
import time
from contextlib import closing

import cv2
import numpy as np
import pytest
import resvg_py

from tests.live.running import running
from tests.live.steps.live_page import files, last_message, live_page
from tests.live.steps.phone import HERE, NOTE, Phone
from trueup.cli.look.phone.code import as_picture, in_letters
from trueup.cli.look.phone.network import local_address

HEADERS = [
    {"trueup_token": None},
    {"trueup_token": ""},
    {"trueup_token": "A" * 43},
    {"host": "theatre.example"},
    {"host": "127.0.0.1:4711"},
    {"origin": None},
    {"origin": "http://theatre.example"},
    {"origin": "null"},
    {"content_type": "text/plain"},
    {"content_type": "multipart/form-data; boundary=x"},
    {"sec_fetch_site": "cross-site"},
]


@pytest.fixture
def phone():
    return Phone()


@pytest.mark.parametrize("other", HEADERS, ids=str)
def test_who_has_not_the_code_sends_nothing(phone, other):
    status, body = phone.ask("POST", "/note", json.dumps(NOTE).encode(), **other)
    assert status == 403
    assert b"blouse" not in body
    assert phone.door.note is None
    assert phone.door.seconds_left > 0


def test_a_note_is_sent_once_and_never_again(phone):
    assert phone.send()[0] == 200
    assert phone.send(words="another")[0] == 403
    assert phone.ask("GET", "/")[0] == 403
    assert phone.door.note.words == "pulls"


def test_once_it_is_confirmed_no_other_can_be_sent_either(phone):
    phone.send()
    phone.door.confirm()
    assert phone.door.note is None
    assert phone.door.state == "over"
    assert phone.send()[0] == 403


def test_after_ten_minutes_the_door_is_closed(phone):
    phone.clock.now = 599.0
    assert phone.ask("GET", "/")[0] == 200
    phone.clock.now = 600.0
    assert phone.ask("GET", "/")[0] == 403
    assert phone.send()[0] == 403
    assert phone.door.note is None
    assert phone.door.state == "over"


def test_two_at_a_time_are_one_too_many(phone):
    assert phone.door.claim()
    assert phone.send()[0] == 403
    phone.door.give_up()
    assert phone.send()[0] == 200


def test_what_comes_too_late_is_not_taken(phone):
    assert phone.door.claim()
    phone.clock.now = 600.0
    assert not phone.door.take(None)


def test_nothing_can_be_said_of_another_garment(phone):
    assert phone.send(garment="other")[0] == 400
    assert phone.door.note is None


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("POST", "/view"), ("POST", "/now"), ("POST", "/names"), ("POST", "/decide"),
        ("POST", "/undo"), ("POST", "/note-form"), ("POST", "/phone"), ("POST", "/"),
        ("GET", "/note"), ("GET", "/view"), ("GET", "/?x=1"), ("GET", "/photos/x.jpg"),
        ("GET", "/../wardrobe.toml"), ("PUT", "/note"), ("OPTIONS", "/note"), ("HEAD", "/"),
    ],
)  # fmt: skip
def test_nothing_is_read(phone, method, path):
    status, body = phone.ask(method, path, b'{"garment": "tea-blouse", "version": ""}')
    assert status in (400, 403, 404, 405)
    assert b"blouse" not in body
    assert phone.door.seconds_left > 0


def test_the_form_holds_no_word_of_the_wardrobe(phone):
    status, body = phone.ask("GET", "/")
    assert status == 200
    assert b"not encrypted" in body
    assert not any(word in body for word in (b"tea-blouse", b"theatre", b"village", b"T" * 43))


def test_more_than_a_photo_is_not_read_and_the_code_is_not_used_up(phone):
    assert phone.ask("POST", "/note", b"{}", content_length="900000000")[0] == 413
    assert phone.ask("POST", "/note", b"x" * 27_000_000, content_length=None)[0] == 413
    assert phone.send()[0] == 200


@pytest.mark.parametrize("content", [b"GIF89a", b"<svg/>", b"\xff\xd8\xff", b"x"])
def test_only_a_picture_is_taken_and_the_code_is_not_used_up(phone, content):
    status, body = phone.send(photo=base64.b64encode(content).decode())
    assert status == 422
    assert b"cannot be read as a picture" in body
    assert phone.send()[0] == 200


@pytest.mark.parametrize("told", [{"words": "x" * 20_001}, {"photo": "/etc/passwd"}, {"path": "x"}])
def test_what_is_no_note_is_not_taken(phone, told):
    assert phone.send(**told)[0] == 400
    assert phone.door.note is None


@pytest.mark.parametrize("where", ["terminal", "page"])
def test_the_code_says_the_address(where):
    if where == "terminal":
        rows = [line for line in in_letters(HERE.address).split("\n") if line]
        halves = {"█": (255, 255), "▀": (255, 0), "▄": (0, 255), " ": (0, 0)}
        pairs = [[halves[each] for each in row] for row in rows]
        seen = np.array([[p[half] for p in row] for row in pairs for half in (0, 1)], np.uint8)
        # The lower half of the last row is no part of it.
        seen[-1] = 255
    else:
        svg = re.search(r"<svg.*</svg>", str(as_picture(HERE.address, "code")), re.DOTALL)[0]
        svg = svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
        png = bytes(resvg_py.svg_to_bytes(svg_string=svg))
        seen = cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_GRAYSCALE)
    large = cv2.resize(seen, None, fx=8, fy=8, interpolation=cv2.INTER_NEAREST)
    assert cv2.QRCodeDetector().detectAndDecode(large)[0] == HERE.address


def test_a_garment_there_is_not_is_refused_before_anything_is_served(trueup):
    answer = trueup("look", "--no-browser", "--phone", "nothing")
    assert answer.code == 2
    assert 'There is no garment "nothing"; try tea-blouse.' in answer.err


@pytest.fixture
def address(wardrobe):
    """A wardrobe served with a door for a phone, and where that is."""
    with running(wardrobe, "--no-browser", "--phone", "tea-blouse") as served:
        answer = served.ask("phone", garment="tea-blouse").line
        yield served, answer["address"]


def asked_there(address, method, path, body=None, **headers):
    host = re.match(r"http://([\d.]+:\d+)/", address)[1]
    with closing(http.client.HTTPConnection(host, timeout=60)) as sent:
        sent.request(method, path, body, headers)
        answer = sent.getresponse()
        return answer.status, answer.read()


def test_the_token_of_the_page_opens_no_form_and_that_of_the_form_no_page(address):
    live, there = address
    token = re.search(r"token=([\w-]+)", there)[1]
    assert token != live.token
    assert live.send("POST", "/view", b'{"address": "start"}', Trueup_Token=token).status == 403
    host = re.match(r"http://([\d.]+:\d+)/", there)[1]
    how = {"Origin": f"http://{host}", "Content-Type": "application/json"}
    body = json.dumps(NOTE)
    assert (
        asked_there(there, "POST", "/note", body, **how, **{"Trueup-Token": live.token})[0] == 403
    )
    # What is asked by the token of the form is for the form alone.
    assert asked_there(there, "POST", "/view", body, **how, **{"Trueup-Token": token})[0] == 404
    # The page itself stays on this machine.
    with pytest.raises(ConnectionRefusedError):
        http.client.HTTPConnection(local_address(), live.port, timeout=5).request("GET", "/")


def test_another_garment_s_page_tells_of_no_phone(address):
    live, _ = address
    assert live.ask("phone", garment="other").line == {"none": True}


def test_a_note_from_a_phone_is_recorded_when_it_is_confirmed(
    browser, address, trueup, other, photo
):
    live, there = address
    before = trueup.contents()
    with live_page(browser, live, "garment/tea-blouse") as opened:
        page = opened.page
        page.wait_for_selector(".from-phone .code svg")
        opened.require_accessible()
        opened.require_no_sideways_scrolling()
        send_by_phone(browser, there, photo)
        page.wait_for_selector("text=A note came from the phone")
        assert trueup.contents() == before
        assert "where: under the arm" in page.inner_text(".from-phone")
        page.click("text=Look it over")
        page.wait_for_selector(".photo img")
        assert page.input_value("[name=symptom]") == "armhole-binds"
        page.select_option("[name=place]", "back.armhole")
        page.click("form.step .record")
        page.wait_for_selector(".meanwhile .command")
        page.wait_for_selector("text=The form for the phone is closed")
        other.made(
            *("note", "tea-blouse", "armhole-binds", "--place", "back.armhole"),
            *("--words", "pulls", "--photo", str(photo)),
        )
        assert files(trueup) == files(other)
        assert last_message(trueup) == last_message(other)
    wait_until_closed(there)


def send_by_phone(browser, address, photo):
    context = browser.new_context(
        viewport={"width": 360, "height": 740}, is_mobile=True, has_touch=True
    )
    said = []
    context.on("console", lambda line: said.append(line.text))
    page = context.new_page()
    page.goto(address)
    assert page.inner_text("h1") == "A fit note on tea-blouse"
    widths = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert widths[0] <= widths[1]
    page.select_option("[name=symptom]", "armhole-binds")
    page.fill("[name=where]", "under the arm")
    page.fill("[name=words]", "pulls")
    page.set_input_files("[name=photo]", photo)
    page.tap("text=Send this note")
    page.wait_for_selector("text=Confirm it on the machine")
    context.close()
    assert said == []


def wait_until_closed(address):
    host = re.match(r"http://([\d.]+:\d+)/", address)[1]
    for _ in range(600):
        try:
            with closing(http.client.HTTPConnection(host, timeout=5)) as asked:
                asked.request("GET", "/")
                asked.getresponse()
        except OSError:
            return
        time.sleep(0.1)
    pytest.fail("it is still listened to")
