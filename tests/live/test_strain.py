"""An amount moved without rest: only what is wanted is worked out, and memory stays flat."""

import json
import socket
import sys

import pytest

from tests.live.running import Running
from tests.live.slow import slowly

FEW, MANY = 150, 600  # moves; the second are as many as ten a second for a minute
MOST_GROWTH = 30_000_000  # bytes


def move(live: Running, number: int) -> socket.socket:
    """Ask for a trial as a page does that moves its amount, and wait for no answer."""
    by = f"{0.5 + number % 200 / 100}cm"
    correction = {
        "node": "village",
        "kind": "scoop-armhole",
        "values": {"piece": "front", "by": by},
    }
    body = json.dumps({"change": correction, "near": []}).encode()
    head = [f"{name}: {value}" for name, value in live.headers().items()]
    length = f"Content-Length: {len(body)}"
    lines = ["POST /preview HTTP/1.1", *head, length, "Connection: close", "", ""]
    asked = live.connected()
    asked.sendall("\r\n".join(lines).encode() + body)
    return asked


def moved(live: Running, times: int) -> None:
    for number in range(times):
        asked = move(live, number)
        if number % 5:
            asked.recv(200)  # begun, and moved on
        else:
            asked.makefile("rb").read()
        asked.close()


@pytest.mark.skipif(sys.platform != "linux", reason="memory is looked up in /proc")
def test_moves_without_rest_keep_memory_flat_and_the_last_is_answered(live):
    moved(live, FEW)
    before = live.memory()
    moved(live, MANY)
    assert live.memory() - before < MOST_GROWTH
    asked = {"node": "village", "kind": "scoop-armhole", "values": {"piece": "front", "by": "7mm"}}
    lines = live.ask("preview", change=asked).lines
    assert lines[-1] == {"whole": True}
    assert {line["row"] for line in lines if "row" in line} == {"easy", "blouse", "vest", "own"}


def test_a_trial_that_was_moved_on_from_is_given_up(wardrobe):
    """What nobody waits for is not worked out to its end: the next does not wait for it."""

    with slowly(wardrobe, 1.0) as live:
        first = move(live, 1)
        first.recv(200)
        with move(live, 2) as second:
            told = second.makefile("rb").read()
        assert b'"whole":true' in told
        rest = first.makefile("rb").read()
        assert b'"whole"' not in rest
        assert rest.count(b'"row"') < 4
        first.close()
