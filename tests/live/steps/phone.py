"""A phone that asks by hand, and the door it asks at, without a network between."""

import asyncio
import json
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any

from trueup.cli.look.phone.answering import phone_application
from trueup.cli.look.phone.form import made_form
from trueup.cli.look.phone_door import PhoneDoor
from trueup.cli.look.safety.address import LiveAddress
from trueup.cli.look.safety.guard import Guard

HERE = LiveAddress(4711, "T" * 43, "192.168.7.8")
NOTE = {"symptom": "armhole-binds", "where": "front", "words": "pulls"}


@dataclass
class Clock:
    """A clock that is moved by hand, s."""

    now: float = 0.0

    def __call__(self) -> float:
        return self.now


@dataclass
class Phone:
    """A phone before a door whose clock is moved by hand."""

    clock: Clock = field(default_factory=Clock)

    def __post_init__(self) -> None:
        self.door = PhoneDoor("tea-blouse", self.clock)
        form = made_form()
        self.asked = Guard(phone_application(form, self.door), HERE, form.policy, lambda _: None)

    def ask(self, method: str, path: str, body: bytes = b"", **other: str | None) -> Any:
        """Return status and body of an answer; headers are those of our form but for others."""
        own: Mapping[str, str | None] = {"host": HERE.host} if method == "GET" else {
            "host": HERE.host, "origin": HERE.origin, "content-type": "application/json",
            "trueup-token": HERE.token, "content-length": str(len(body)),
        }  # fmt: skip
        changed = {name.replace("_", "-"): value for name, value in other.items()}
        headers = {**own, **changed}
        # In a thread of its own: in that of the tests a browser may be driven, which is a loop.
        with ThreadPoolExecutor(1) as apart:
            return apart.submit(asyncio.run, self._ask(method, path, body, headers)).result()

    def send(self, **told: Any) -> Any:
        return self.ask("POST", "/note", json.dumps({**NOTE, **told}).encode())

    async def _ask(
        self, method: str, path: str, body: bytes, headers: Mapping[str, str | None]
    ) -> tuple[int, bytes]:
        path, _, query = path.partition("?")
        scope = {
            "type": "http", "method": method, "path": path, "raw_path": path.encode(),
            "query_string": query.encode(), "root_path": "", "scheme": "http",
            "http_version": "1.1", "client": ("192.168.7.9", 5), "server": (HERE.machine, 4711),
            "headers": [(n.encode(), v.encode()) for n, v in headers.items() if v is not None],
        }  # fmt: skip
        sent: list[Any] = []

        async def receive() -> Any:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: Any) -> None:
            sent.append(message)

        await self.asked(scope, receive, send)
        content = b"".join(each.get("body", b"") for each in sent)
        return sent[0]["status"], content
