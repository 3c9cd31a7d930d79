"""Which kinds of change there are for a line that was picked, or for no line."""

from collections.abc import Iterable, Iterator, Mapping, Set

import msgspec

from trueup.cli.look.acting import action
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.owning.line import Line
from trueup.cli.look.trying.lines import picked_line
from trueup.cli.look.written import Short
from trueup.cli.plain.help_pages import first_sentence
from trueup.geometry.changes import kind_named, kinds

_MEANT, _ACTING = "Made for this line", "Also change this line"


class PickedLine(msgspec.Struct, forbid_unknown_fields=True):
    """A line of a node, as `piece.edge`; empty where none is picked."""

    node: Short
    line: Short


@action("kinds", PickedLine)
def list_kinds(desk: Desk, told: PickedLine) -> Iterator[Line]:
    """Yield all kinds in groups, each with what it does in one sentence."""
    desk.wardrobe.state.node(told.node)
    acting = picked_line(desk, told.node, told.line) if told.line else ()
    known = {each.kind for each in acting}
    groups = [
        _group(_MEANT, (each.kind for each in acting if each.is_meant)),
        _group(_ACTING, (each.kind for each in acting if not each.is_meant)),
        *(_group(room, found) for room, found in _by_room(kinds().keys() - known).items()),
    ]
    yield {"groups": [(label, found) for label, found in groups if found]}


def _by_room(names: Set[str]) -> Mapping[str, list[str]]:
    """Return kinds by the room they live in, which is called by what it is about."""
    found: dict[str, list[str]] = {}
    for name in sorted(names):
        cls = kind_named(name)
        room = cls.__module__.split(".")[-2].replace("_", " ").capitalize()
        found.setdefault(room, []).append(name)
    return dict(sorted(found.items()))


def _group(label: str, names: Iterable[str]) -> tuple[str, list[tuple[str, str]]]:
    return label, [(each, first_sentence(kind_named(each).__doc__ or "")) for each in names]
