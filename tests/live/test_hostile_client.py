"""Whoever is no page of ours gets nothing and harms nothing, whatever is sent and however much."""

import json
import resource
import socket
import time
from contextlib import ExitStack, suppress
from pathlib import Path

import pytest

from tests.live.running import Running, running

NOTHING = (b"theatre", b"village", b"blouse", b"easy")
"""Names of the wardrobe, and of what is in it."""

VIEW = json.dumps({"address": "start"}).encode()
MOST_GROWTH = 40_000_000  # bytes; what is sent is many times as much


def answers(live: Running) -> bool:
    """Return whether a page of ours is answered still."""
    return "village" in live.ask("view", address="start").line["content"]


def is_cut_off(sent: socket.socket, more: bytes) -> bool:
    """Return whether no more can be sent long before 100 MB were."""
    try:
        for _ in range(100_000_000 // len(more)):
            sent.sendall(more)
    except OSError:
        return True
    return False


@pytest.mark.parametrize(
    "headers",
    [
        {"Trueup_Token": None},
        {"Trueup_Token": ""},
        {"Trueup_Token": "A" * 43},
        {"Trueup_Token": "*"},
        {"Host": "theatre.example"},
        {"Host": "localhost"},
        {"Host": None},
        {"Host": "127.0.0.1"},
        {"Origin": "http://theatre.example"},
        {"Origin": "null"},
        {"Origin": None},
        {"Origin": "http://127.0.0.1"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
        {"Sec_Fetch_Site": "none"},
        {"Content_Type": "text/plain"},
        {"Content_Type": "application/x-www-form-urlencoded"},
        {"Content_Type": "multipart/form-data; boundary=x"},
        {"Content_Type": "application/json; charset=utf-8"},
        {"Content_Type": None},
    ],
    ids=str,
)
def test_what_is_not_asked_by_a_page_of_ours_is_refused(shared, headers):
    answer = shared.send("POST", "/view", VIEW, **headers)
    assert answer.status in (400, 403)
    assert not any(name in answer.body for name in NOTHING)
    assert not any("allow-origin" in name.lower() for name in answer.headers)
    assert answers(shared)


def test_a_token_of_a_server_that_was_stopped_is_worth_nothing(wardrobe, shared):
    with running(wardrobe, "--no-browser") as other:
        old = other.token
    assert old != shared.token
    assert shared.send("POST", "/view", VIEW, Trueup_Token=old).status == 403


def test_a_token_has_256_bits(shared):
    assert len(shared.token) == 43  # base64 without padding of 32 bytes


@pytest.mark.parametrize("method", ["OPTIONS", "HEAD", "PUT", "DELETE", "TRACE", "GET"])
def test_no_other_method_is_answered(shared, method):
    answer = shared.send(method, "/view", None, Origin="http://theatre.example")
    assert answer.status == 403
    assert not any(name.lower().startswith("access-control") for name in answer.headers)


@pytest.mark.parametrize(
    "path",
    ["/wardrobe.toml", "/../wardrobe.toml", "/%2e%2e/wardrobe.toml", "/?address=start", "//", "/x"],
)
def test_no_path_leads_to_a_file(shared, path):
    answer = shared.send("GET", path, None, Origin=None)
    assert answer.status == 403
    assert not any(name in answer.body for name in NOTHING)


@pytest.mark.parametrize("action", ["../view", "view/", "none", "__init__", "view%00", "LEAVE"])
def test_no_other_action_is_carried_out(shared, action):
    assert shared.send("POST", f"/{action}", VIEW).status in (307, 404)


@pytest.mark.parametrize(
    "address",
    ["../etc/passwd", "pattern/../../wardrobe.toml", "/etc/passwd", "\0", "garment/" * 99],
)
def test_no_address_leads_to_a_file(shared, address):
    (line,) = shared.ask("view", address=address).lines
    assert line.keys() <= {"none", "refused"}


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[]", b"null", b'{"address": 1}', b'{"address": "start", "folder": "/"}']
)
def test_what_is_asked_otherwise_than_it_should_be_is_refused(shared, body):
    assert shared.send("POST", "/view", body).status == 400
    assert answers(shared)


def test_the_frame_holds_nothing_of_the_wardrobe(shared):
    for headers in ({}, {"Trueup_Token": None}):
        answer = shared.send(
            "GET", "/", None, Origin=None, Content_Type=None, Sec_Fetch_Site="none", **headers
        )
        assert answer.status == 200
        assert not any(name in answer.body for name in NOTHING)
        assert shared.token.encode() not in answer.body


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Dest": "iframe"},
        {"Sec_Fetch_Dest": "script"},
        {"Host": "theatre.example"},
    ],
    ids=str,
)
def test_the_frame_is_not_shown_within_another_page(shared, headers):
    assert shared.send("GET", "/", None, Origin=None, **headers).status == 403


@pytest.mark.parametrize("path", ["/", "/view", "/nowhere"])
def test_every_answer_bears_the_headers(shared, path):
    answer = shared.send("POST" if path != "/" else "GET", path, VIEW)
    headers = {name.lower(): value for name, value in answer.headers.items()}
    assert headers["cache-control"] == "no-store"
    assert headers["x-content-type-options"] == "nosniff"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "set-cookie" not in headers
    assert "server" not in headers


@pytest.mark.parametrize("length", [1_000_000, 99_999_999_999_999_999_999])
def test_a_huge_body_is_not_read(shared, length):
    before = shared.memory()
    with shared.connected() as sent:
        head = [f"{name}: {value}" for name, value in shared.headers().items()]
        lines = ["POST /view HTTP/1.1", *head, f"Content-Length: {length}", "", ""]
        sent.sendall("\r\n".join(lines).encode())
        assert b" 413 " in sent.recv(1_000)
        # Whoever goes on sending finds nobody there.
        with suppress(ConnectionError):
            sent.sendall(b"x" * 1_000_000)
    assert answers(shared)
    assert shared.memory() - before < MOST_GROWTH


def test_a_body_without_end_is_read_in_bounded_memory(shared):
    before = shared.memory()
    with shared.connected() as sent:
        head = [f"{name}: {value}" for name, value in shared.headers().items()]
        lines = ["POST /view HTTP/1.1", *head, "Transfer-Encoding: chunked", "", ""]
        sent.sendall("\r\n".join(lines).encode())
        assert is_cut_off(sent, b"4000\r\n" + b"x" * 0x4000 + b"\r\n")
    assert answers(shared)
    assert shared.memory() - before < MOST_GROWTH


def test_a_head_without_end_is_cut_off(shared):
    before = shared.memory()
    with shared.connected() as sent:
        sent.sendall(b"GET / HTTP/1.1\r\n")
        assert is_cut_off(sent, b"X-More: " + b"x" * 1000 + b"\r\n")
    assert answers(shared)
    assert shared.memory() - before < MOST_GROWTH


def test_slow_bodies_keep_nobody_waiting_and_are_cut_off(shared):
    with ExitStack() as many:
        for _ in range(20):
            sent = many.enter_context(shared.connected())
            head = [f"{name}: {value}" for name, value in shared.headers().items()]
            lines = ["POST /view HTTP/1.1", *head, "Content-Length: 60000", "", "{"]
            sent.sendall("\r\n".join(lines).encode())
        assert answers(shared)
        assert b" 408 " in sent.recv(1_000)


def test_a_thousand_connections_keep_nobody_out(shared):
    files = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (max(files[0], 2_000), files[1]))
    before = shared.memory()
    with ExitStack() as many:
        for number in range(1_000):
            sent = many.enter_context(shared.connected())
            if number % 2:
                sent.sendall(b"POST /view HTTP/1.1\r\n")
            if number % 100 == 0:
                assert answers(shared)
        began = time.monotonic()
        assert answers(shared)
        assert time.monotonic() - began < 30  # it hangs, or it does not
    assert answers(shared)
    assert shared.memory() - before < MOST_GROWTH


def test_a_web_socket_is_not_opened(shared):
    answer = shared.send(
        "GET", "/", None, Content_Type=None, Sec_Fetch_Site="cross-site",
        Origin="http://theatre.example", Connection="Upgrade", Upgrade="websocket",
        Sec_WebSocket_Version="13", Sec_WebSocket_Key="dGhlIHNhbXBsZSBub25jZQ==",
    )  # fmt: skip
    assert answer.status == 403


@pytest.mark.parametrize(
    "sent",
    [b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", b"\0" * 5_000, b"GET\r\n\r\n", b"\r\n" * 500],
)
def test_what_is_no_http_is_cut_off(shared, sent):
    with shared.connected() as there:
        there.sendall(sent)
        there.shutdown(socket.SHUT_WR)
        assert b"theatre" not in there.recv(10_000)
    assert answers(shared)


def test_it_listens_to_this_machine_alone(shared):
    rows = [line.split() for line in Path("/proc/net/tcp").read_text().splitlines()[1:]]
    listening = {row[1] for row in rows if row[3] == "0A"}
    assert f"0100007F:{shared.port:04X}" in listening
    assert f"00000000:{shared.port:04X}" not in listening
