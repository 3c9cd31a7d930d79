"""Try a change, as often as its amount is moved; an earlier trial of the page is given up."""

from collections.abc import Iterator
from functools import partial

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.asked import AskedChange, Values, tried_change
from trueup.cli.look.trying.trial import tried

_MOST_NEAR = 6


class AskedTrial(msgspec.Struct, forbid_unknown_fields=True):
    """A change to try, and the values that may be tried next: they are worked out meanwhile."""

    change: AskedChange
    near: list[Values] = []


@action("preview", AskedTrial, Urgency.TRIAL)
def try_change(desk: Desk, told: AskedTrial) -> Iterator[Line]:
    """Yield what would become of every pattern."""
    yield from tried(desk, tried_change(desk, told.change))
    for values in told.near[:_MOST_NEAR]:
        near = msgspec.structs.replace(told.change, values=values)
        desk.later.append(partial(_tried_before, change=near))


def _tried_before(desk: Desk, change: AskedChange) -> Iterator[Line]:
    yield from tried(desk, tried_change(desk, change))
