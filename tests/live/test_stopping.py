"""When nobody needs the live page any more it stops, and leaves nothing behind."""

import signal
import sys

import pytest

from tests.live.running import HANGS, running


def ended(live) -> int:
    return live.process.wait(HANGS)


def test_it_stops_by_itself_when_nothing_is_asked(wardrobe):
    with running(wardrobe, "--no-browser", "--idle", "0.01", is_anew=True) as live:
        assert ended(live) == 0


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_it_stops_when_it_is_told_to(wardrobe, how):
    with running(wardrobe, "--no-browser", is_anew=True) as live:
        live.ask("view", address="start")
        live.process.send_signal(how)
        code = ended(live)
        assert code == (0 if how is signal.SIGINT else -how)
        assert live.process.stderr.read() == ""
    assert not list(wardrobe.rglob("*.lock"))


def test_it_stops_in_the_middle_of_a_trial(wardrobe):
    with running(wardrobe, "--no-browser", is_anew=True) as live, live.connected() as asked:
        body = (
            b'{"change": {"node": "village", "kind": "scoop-armhole", '
            b'"values": {"piece": "front", "by": "1"}}}'
        )
        head = [f"{name}: {value}" for name, value in live.headers().items()]
        lines = ["POST /preview HTTP/1.1", *head, f"Content-Length: {len(body)}", "", ""]
        asked.sendall("\r\n".join(lines).encode() + body)
        asked.recv(1)
        live.process.send_signal(signal.SIGINT)
        assert ended(live) == 0


def test_without_the_libraries_it_says_what_to_install(wardrobe, tmp_path):
    from tests.cli.conftest import run  # noqa: PLC0415

    hidden = {name: sys.modules.pop(name) for name in list(sys.modules) if _serves(name)}
    sys.modules |= {"uvicorn": None, "starlette": None}
    try:
        answer = run("-C", str(wardrobe), "look", "--no-browser")
    finally:
        del sys.modules["uvicorn"], sys.modules["starlette"]
        sys.modules |= hidden
    assert answer.code == 2
    assert "starlette and uvicorn, which are not installed here" in answer.err
    assert answer.err.count("\n") == 1


def _serves(name: str) -> bool:
    return name.startswith(("uvicorn", "starlette", "trueup.cli.look"))


def test_a_folder_that_is_no_wardrobe_is_refused_before_anything_is_served(tmp_path):
    from tests.cli.conftest import run  # noqa: PLC0415

    answer = run("-C", str(tmp_path), "look", "--no-browser")
    assert answer.code == 2
    assert "http" not in answer.out
