"""The watch kept over an open book: a check that could not fail would be none."""

import base64
import hashlib
import socket
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Error

from tests.browser.accessibility import serious_findings
from tests.browser.opened import opened

QUIET = "document.querySelector('output').textContent = 'Ready'"


def digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


@pytest.fixture
def written(tmp_path):
    """Write a small page in the manner of the book, with what a test puts into it."""

    def write(content: str = "", script: str = QUIET, policy: str = "", head: str = "") -> Path:
        file = tmp_path / "a book.html"
        rule = f'<meta http-equiv="Content-Security-Policy" content="{policy}">' if policy else ""
        file.write_text(
            f'<!doctype html><html lang="en"><head><meta charset="utf-8">{rule}{head}'
            '<meta name="viewport" content="width=device-width"><title>A book</title></head>'
            f"<body><main><h1>A book</h1><output></output>{content}</main>"
            f"<script>{script}</script></body></html>",
            encoding="utf-8",
        )
        return file

    return write


def strict(script: str = QUIET) -> str:
    return f"default-src 'none'; img-src data:; script-src {digest(script)}"


def test_a_quiet_book_passes(open_book, written):
    book = open_book(written(content="<p>A block</p>"))
    assert book.page.get_by_role("status").inner_text() == "Ready"
    assert serious_findings(book.page) == []


def test_links_inside_the_book_and_pictures_in_it_are_no_requests(open_book, written):
    picture = (
        '<img alt="" src="data:image/svg+xml,%3Csvg xmlns=%22http://www.w3.org/2000/svg%22/%3E">'
    )
    book = open_book(written(content=f'<a href="#there">There</a>{picture}'), fragment="here")
    assert book.page.url.endswith("#here")
    book.page.get_by_role("link").click()
    assert book.page.url.endswith("#there")


@pytest.mark.parametrize(
    ("script", "complaint"),
    [
        ("console.error('lost')", "console error: lost"),
        ("console.warn('odd')", "console warning: odd"),
        ("throw new Error('torn')", "page error: .*torn"),
        ("Promise.reject(new Error('broken off'))", "page error: .*broken off"),
        ("alert('hello')", "dialog: hello"),
        ("fetch('https://example.org/count').catch(() => 0)", "request for https://example.org"),
        ("navigator.sendBeacon('https://example.org/b')", "request for https://example.org/b"),
        ("try { new WebSocket('ws://localhost:9/s') } catch {}", "request for ws://localhost:9/s"),
        ("document.createElement('img').src = 'beside.png'", "request for file:.*beside.png"),
        ("open('https://example.org/other')", "request for https://example.org/other"),
    ],
)
def test_what_a_script_must_not_do_fails_the_test(browser, written, script, complaint):
    with pytest.raises(AssertionError, match=complaint), opened(browser, written(script=script)):
        pass


@pytest.mark.parametrize(
    ("content", "complaint"),
    [
        ('<img alt="" src="https://example.org/a.png">', "request for https://example.org/a.png"),
        ('<img alt="" src="beside.png">', "request for file:.*beside.png"),
        ('<iframe title="f" src="http://example.org/"></iframe>', "request for http://example.org"),
        ("<img alt='' src='data:,' onerror='alert(1)'>", "dialog: 1"),
        (
            "<style>@font-face{font-family:f;src:url(https://example.org/f.woff)}"
            "p{font-family:f}</style><p>text</p>",
            "request for https://example.org/f.woff",
        ),
    ],
)
def test_what_the_content_must_not_do_fails_the_test(browser, written, content, complaint):
    with pytest.raises(AssertionError, match=complaint), opened(browser, written(content=content)):
        pass


def test_nothing_leaves_the_machine_even_so(browser, written):
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.setblocking(False)
        there = f"http://127.0.0.1:{listening.getsockname()[1]}/"
        file = written(
            head=f'<link rel="preconnect" href="{there}">',
            content=f'<img alt="" src="{there}a.png"><iframe title="f" src="{there}f"></iframe>',
            script=f"fetch('{there}count').catch(() => 0); navigator.sendBeacon('{there}b');"
            f"new WebSocket('{there.replace('http', 'ws')}')",
        )
        with pytest.raises(AssertionError), opened(browser, file) as book:
            book.page.wait_for_timeout(200)
        with pytest.raises(BlockingIOError):
            listening.accept()


def test_a_link_that_leads_away_is_seen_when_it_is_followed(browser, written):
    away = '<a href="https://example.org/away">Away</a>'
    with (
        pytest.raises(AssertionError, match=r"request for https://example\.org/away"),
        opened(browser, written(content=away)) as book,
    ):
        book.page.get_by_role("link").click(no_wait_after=True)


def test_a_crash_is_seen(browser, written):
    with (
        pytest.raises(AssertionError, match="the page crashed"),
        opened(browser, written()) as book,
        suppress(Error),
    ):
        book.page.goto("chrome://crash")


def test_complaints_that_come_late_are_waited_for(browser, written):
    script = "setTimeout(() => console.error('late'), 20)"
    with pytest.raises(AssertionError, match="late"), opened(browser, written(script=script)):
        pass


def test_a_failure_in_the_test_itself_is_not_hidden_by_complaints(browser, written):
    with (
        pytest.raises(ZeroDivisionError),
        opened(browser, written(script="console.error('lost')")),
    ):
        raise ZeroDivisionError


@pytest.mark.parametrize("policy", ["", strict()])
@pytest.mark.parametrize(
    ("content", "finding"),
    [
        ('<img src="data:,">', "image-alt"),
        ("<button></button>", "button-name"),
        ('<input type="text">', "label"),
    ],
)
def test_a_serious_finding_is_found_and_names_the_element(
    open_book, written, content, finding, policy
):
    book = open_book(written(content=content, policy=policy))
    (line,) = [line for line in serious_findings(book.page) if f"({finding})" in line]
    assert content in line


def test_faint_text_is_a_serious_finding(open_book, written):
    head = "<style>p{color:#bbb;background:#fff}</style>"
    book = open_book(written(content="<p>Hardly to be read</p>", head=head))
    assert any("color-contrast" in line for line in serious_findings(book.page))


def test_a_strict_policy_is_in_force_and_does_not_hinder_the_search(open_book, written):
    book = open_book(written(content="<p>A block</p>", policy=strict()))
    assert book.page.get_by_role("status").inner_text() == "Ready"
    assert serious_findings(book.page) == []


def test_what_a_strict_policy_forbids_is_complained_of(browser, written):
    file = written(content="<img alt='' src='data:,' onerror='alert(1)'>", policy=strict())
    with (
        pytest.raises(AssertionError, match=r"console error: .*Content Security Policy") as told,
        opened(browser, file),
    ):
        pass
    assert "dialog" not in str(told.value)


@pytest.mark.parametrize(
    ("how", "query"),
    [
        ({"width": 390, "phone": True}, "(width: 390px) and (hover: none)"),
        ({"width": 1280}, "(width: 1280px)"),
        ({"colour_scheme": "dark"}, "(prefers-color-scheme: dark)"),
        ({"colour_scheme": "light"}, "(prefers-color-scheme: light)"),
        ({"reduced_motion": True}, "(prefers-reduced-motion: reduce)"),
        ({"reduced_motion": False}, "(prefers-reduced-motion: no-preference)"),
        ({"media": "print"}, "print"),
        ({"media": "screen"}, "screen"),
    ],
)
def test_the_reader_is_as_asked_for(open_book, written, how, query):
    book = open_book(written(), **how)
    assert book.page.evaluate("query => matchMedia(query).matches", query)
