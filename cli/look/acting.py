"""What a page can ask for: an action has a name, what it is told, and what it does.

One action, one file in `actions`. To add one, write there a record of what it is told and, under
`@action`, a function that yields the lines of its answer, in the thread that owns the wardrobe.
A last line `{"refused": sentence}` is made of whatever it raises.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

import msgspec

from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line

USUAL_SIZE = 64_000

AskedT = TypeVar("AskedT", bound=msgspec.Struct)


@dataclass(frozen=True)
class Action:
    """An action: its name, the record it is told, what makes its answer, and how urgent it is.

    What it is told is of `largest` bytes at most; with `is_asking` the maker wanted it, and no
    page by itself.
    """

    name: str
    told: type[msgspec.Struct]
    run: Callable[[Desk, Any], Iterator[Line]]
    urgency: Urgency
    largest: int
    is_asking: bool


ACTIONS: dict[str, Action] = {}


def action(
    name: str,
    told: type[AskedT],
    urgency: Urgency = Urgency.PAGE,
    *,
    largest: int = USUAL_SIZE,
    is_asking: bool = True,
) -> Callable[[Callable[[Desk, AskedT], Iterator[Line]]], Callable[[Desk, AskedT], Iterator[Line]]]:
    """Register what an action does under its name; a second one of a name is a mistake."""

    def register(
        run: Callable[[Desk, AskedT], Iterator[Line]],
    ) -> Callable[[Desk, AskedT], Iterator[Line]]:
        if name in ACTIONS:
            raise TypeError(f"the action {name} is registered twice")
        ACTIONS[name] = Action(name, told, run, urgency, largest, is_asking)
        return run

    return register


class NothingTold(msgspec.Struct, forbid_unknown_fields=True):
    """What an action is told that needs to be told nothing."""
