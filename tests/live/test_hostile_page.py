"""A hostile page in the same browser gets nothing of the wardrobe, and changes nothing of it."""

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest

from tests.live.conftest import REBOUND
from tests.live.running import Running
from tests.live.test_recording import files

ATTACKS = """async ([target, token]) => {
  const got = [];
  const body = JSON.stringify({address: 'start'});
  const json = {'Content-Type': 'application/json'};
  const tries = [
    {}, {mode: 'no-cors'}, {method: 'POST', body, mode: 'no-cors'},
    {method: 'POST', body, headers: json}, {method: 'POST', body, credentials: 'include'},
    {method: 'POST', body, headers: {...json, 'Trueup-Token': 'A'.repeat(43)}},
    {method: 'POST', body, headers: {...json, 'Trueup-Token': token}},
  ];
  for (const path of ['/', '/view', '/record', '/now']) {
    for (const each of tries) {
      try {
        got.push(await (await fetch(target + path, each)).text());
      } catch (error) {}
    }
  }
  const frame = document.createElement('iframe');
  frame.src = target + '/#token=' + token;
  const script = document.createElement('script');
  script.src = target + '/view';
  const image = document.createElement('img');
  image.src = target + '/';
  document.body.append(frame, script, image);
  for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data']) {
    const form = document.createElement('form');
    const held = document.createElement('iframe');
    held.name = 'held-' + type;
    form.target = held.name;
    form.method = 'POST';
    form.enctype = type;
    form.action = target + '/record';
    const field = document.createElement('input');
    field.name = '{"change": {"node": "village", "kind": "add-ease", ';
    field.value = '"values": {"by": "1cm"}}, "version": ""}';
    form.append(field);
    document.body.append(held, form);
    form.submit();
  }
  try {
    const socket = new WebSocket(target.replace('http', 'ws') + '/view');
    await new Promise((ends) => {
      socket.onopen = () => { got.push('a socket was opened'); ends(); };
      socket.onerror = socket.onclose = ends;
    });
  } catch (error) {}
  navigator.sendBeacon(target + '/record', body);
  const opened = window.open(target + '/');
  await new Promise((ends) => setTimeout(ends, 1500));
  for (const each of [frame.contentWindow, opened]) {
    try { got.push(each.document.body.innerText); } catch (error) {}
  }
  return got;
}"""


class Elsewhere(BaseHTTPRequestHandler):
    """A site of somebody else's."""

    def do_GET(self) -> None:
        self.send_response(200)
        self.send_header("Content-Type", "text/html")
        self.end_headers()
        self.wfile.write(b"<!doctype html><title>Elsewhere</title><body>")

    def log_message(self, *_told: object) -> None:
        pass


@pytest.fixture
def elsewhere() -> Iterator[int]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), Elsewhere)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server.server_address[1]
    server.shutdown()
    server.server_close()


@pytest.mark.parametrize("host", ["127.0.0.1", REBOUND])
@pytest.mark.parametrize("target", ["127.0.0.1", REBOUND])
@pytest.mark.parametrize("knows", [False, True], ids=["no token", "the token"])
def test_a_page_of_another_site_gets_nothing(
    browser, wardrobe, live: Running, elsewhere, host, target, knows
):
    """Not even one that somehow learned the token: it is no page of ours."""
    before = files(wardrobe)
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(f"http://{host}:{elsewhere}/")
        token = live.token if knows else "B" * 43
        got = page.evaluate(ATTACKS, [f"http://{target}:{live.port}", token])
        assert not any("village" in each or "socket" in each for each in got)
        # The frame that a window may show has no word of the wardrobe, and no token.
        assert not any(live.token in each for each in got)
    finally:
        context.close()
    assert files(wardrobe) == before
    assert "village" in live.ask("view", address="start").line["content"]


def test_by_a_name_that_was_bound_to_this_machine_not_even_the_frame_is_shown(browser, live):
    context = browser.new_context()
    try:
        page = context.new_page()
        page.goto(f"http://{REBOUND}:{live.port}/#token={live.token}")
        assert page.inner_text("body").startswith("Refused")
        status = page.evaluate(
            """async token => (await fetch('/view', {
              method: 'POST', body: '{"address": "start"}',
              headers: {'Content-Type': 'application/json', 'Trueup-Token': token},
            })).status""",
            live.token,
        )
        assert status == 403
    finally:
        context.close()
