"""Try a correction, as often as its amount is moved; an earlier trial of the page is given up."""

from collections.abc import Iterator
from functools import partial

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.asked import AskedCorrection, Values
from trueup.cli.look.trying.trial import tried

_MOST_NEAR = 6


class AskedTrial(msgspec.Struct, forbid_unknown_fields=True):
    """A correction to try, and the values that may be tried next: they are worked out meanwhile."""

    correction: AskedCorrection
    near: list[Values] = []


@action("preview", AskedTrial, Urgency.TRIAL)
def try_correction(desk: Desk, told: AskedTrial) -> Iterator[Line]:
    """Yield what would become of every pattern."""
    yield from tried(desk, told.correction)
    for values in told.near[:_MOST_NEAR]:
        desk.later.append(partial(tried, asked=_with(told.correction, values)))


def _with(asked: AskedCorrection, values: Values) -> AskedCorrection:
    return msgspec.structs.replace(asked, values=values)
