"""A browser is opened without a word on its command line by which others could come in."""

import os
import shutil
import signal
import sqlite3
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlparse
from urllib.request import url2pathname

import pytest

from tests.browser.chromium import ARGUMENTS, chromium
from tests.live.running import HANGS, Running, running
from tests.live.window import window

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="how a browser is named differs")


@contextmanager
def opening(wardrobe: Path, folder: Path, stays: int = 0) -> Iterator[tuple[Running, str]]:
    """Serve a wardrobe, and tell with which address a browser was opened.

    What stands for the browser `stays` for so many seconds.
    """
    told, opener = folder / "address", folder / "opener"
    opener.write_text(
        f'#!/bin/sh\nprintf %s "$1" > {told}.new\nmv {told}.new {told}\nsleep {stays}\n'
    )
    opener.chmod(0o755)
    (folder / "own").mkdir()
    with running(
        wardrobe, BROWSER=f"{opener} %s", TMPDIR=str(folder / "own"), is_anew=True
    ) as live:
        yield live, _read(told)


def _read(file: Path) -> str:
    for _ in range(int(HANGS * 20)):
        if file.exists():
            return file.read_text()
        time.sleep(0.05)
    raise AssertionError("no browser was opened")


def file_of(address: str) -> Path:
    return Path(url2pathname(urlparse(address).path))


def test_it_opens_a_browser_and_stops_when_its_page_is_closed(browser, wardrobe, tmp_path):
    with opening(wardrobe, tmp_path) as (live, address):
        assert address.startswith("file://")
        with window(browser, live) as seen:
            seen.page.reload()
            seen.page.wait_for_selector("main h1")
            time.sleep(4)  # a page that is loaded again has not been closed
            assert live.process.poll() is None
        assert live.process.wait(HANGS) == 0
    assert list((tmp_path / "own").iterdir()) == []


def test_what_it_is_opened_with_can_be_read_by_its_owner_alone_and_holds_no_token(
    wardrobe, tmp_path
):
    with opening(wardrobe, tmp_path) as (live, address):
        file = file_of(address)
        assert stat.S_IMODE(file.stat().st_mode) == 0o600
        assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700
        assert file.stat().st_uid == os.getuid()
        assert live.token not in file.read_text()
        assert live.token not in address


def test_neither_a_list_of_processes_nor_a_history_tells_how_to_come_in(
    browser, wardrobe, tmp_path
):
    """Opened by a browser with a history that is kept."""
    profile = tmp_path / "profile"
    with opening(wardrobe, tmp_path, stays=3) as (live, address):
        ticket = file_of(address).read_text().split(f"{live.origin}/")[1].split('"')[0]
        lines = [_command_line(pid) for pid in Path("/proc").iterdir() if pid.name.isdecimal()]
        assert any(address.encode() in each for each in lines)
        assert not any(live.token.encode() in each for each in lines)
        assert not any(ticket.encode() in each for each in lines)
        context = browser.browser_type.launch_persistent_context(
            str(profile),
            executable_path=chromium(shutil.which, os.environ),
            args=[each.replace("~NOTFOUND", "~NOTFOUND, EXCLUDE 127.0.0.1") for each in ARGUMENTS],
        )
        try:
            page = context.pages[0]
            page.goto(address)
            page.wait_for_selector("main h1")
            assert page.inner_text("main h1") == "theatre"
            assert page.url == f"{live.origin}/#/start"
            page.reload()
            page.wait_for_selector("main h1")
            assert page.inner_text("main h1") == "theatre"
            assert not file_of(address).exists()
            # Who finds the ticket afterwards finds nothing by it.
            assert live.send("GET", f"/{ticket}", Origin=None).status == 403
            assert live.send("POST", "/enter", b"{}", Trueup_Token=ticket).status == 403
            assert live.send("POST", "/now", b"{}", Trueup_Token=ticket).status == 403
        finally:
            context.close()
    visited = str(_visited(profile))
    assert f"{live.origin}/" in visited
    assert live.token not in visited


def _command_line(process: Path) -> bytes:
    try:
        return (process / "cmdline").read_bytes()
    except OSError:
        return b""  # it ended meanwhile


def _visited(profile: Path) -> list[tuple[str, str]]:
    """Return the addresses and titles that a browser keeps of what it visited."""
    (history,) = profile.rglob("History")
    with sqlite3.connect(history) as kept:
        return list(kept.execute("SELECT url, title FROM urls"))


def test_a_ticket_lets_in_once_and_for_the_token_alone(wardrobe, tmp_path):
    with opening(wardrobe, tmp_path) as (live, address):
        ticket = file_of(address).read_text().split(f"{live.origin}/")[1].split('"')[0]
        assert live.send("GET", f"/{ticket}", Origin=None, Sec_Fetch_Dest="iframe").status == 403
        assert live.send("GET", f"/{'A' * 43}", Origin=None).status == 403
        elsewhere = {"Origin": "http://theatre.example", "Trueup_Token": ticket}
        assert live.send("POST", "/enter", b"{}", **elsewhere).status == 403
        assert live.send("POST", "/view", b"{}", Trueup_Token=ticket).status == 403
        shown = live.send("GET", f"/{ticket}", Origin=None, Sec_Fetch_Site="cross-site")
        assert shown.status == 200
        assert live.token.encode() not in shown.body
        assert b"village" not in shown.body
        entered = live.send("POST", "/enter", b"{}", Trueup_Token=ticket)
        assert entered.line == {"token": live.token}
        assert live.send("POST", "/enter", b"{}", Trueup_Token=ticket).status == 403
        assert live.send("GET", f"/{ticket}", Origin=None).status == 403


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_no_way_in_is_left_behind_when_it_is_told_to_stop(wardrobe, tmp_path, how):
    with opening(wardrobe, tmp_path) as (live, address):
        assert file_of(address).exists()
        live.process.send_signal(how)
        live.process.wait(HANGS)
    assert list((tmp_path / "own").iterdir()) == []
