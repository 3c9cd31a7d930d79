"""How the wardrobe stands, and what was done to it since a page was made."""

from collections.abc import Iterator

import msgspec

from trueup.cli.book.addresses import counted
from trueup.cli.book.document import stands
from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.job import Urgency
from trueup.cli.look.owning.line import Line
from trueup.cli.render.chronicle.entries import who

_MOST_TOLD = 5


class VersionShown(msgspec.Struct, forbid_unknown_fields=True):
    """The version that a page shows; empty where it shows none yet."""

    version: str


@action("now", VersionShown, Urgency.FOLLOW, is_asking=False)
def tell_now(desk: Desk, told: VersionShown) -> Iterator[Line]:
    """Yield the version, what the wardrobe is called, what there is to see to, and the last steps.

    The steps are those since the version shown.
    """
    since = desk.since(told.version)
    wardrobe = desk.wardrobe
    last = next(wardrobe.history())
    yield {
        "version": desk.version,
        "name": wardrobe.state.settings.name,
        "stands": stands(last, is_edited=wardrobe.is_edited),
        "since": [f"{each.subject} ({who(each)})" for each in since[:_MOST_TOLD]],
        "counts": counted(wardrobe.state),
        "more": max(len(since) - _MOST_TOLD, 0),
    }
