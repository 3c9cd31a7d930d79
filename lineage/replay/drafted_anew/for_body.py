"""What a block takes from the measurements of a body that it is drafted for. Pure."""

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from trueup.lineage.files.bodies.errors import FollowsABody
from trueup.lineage.files.bodies.known import AsOf, known_of
from trueup.lineage.files.records import DraftedFor
from trueup.lineage.files.state import State
from trueup.lineage.replay.drafted_anew.measurements import is_same_length


@dataclass(frozen=True)
class ForBody:
    """Whom a block is to be drafted for, as of the set of a day; the newest for None."""

    wearer: str
    date: datetime.date | None = None


@dataclass(frozen=True)
class TakenFrom:
    """The measurements that a block takes: those given, and the others as known of a body."""

    body: Mapping[str, str]
    drafted_for: DraftedFor


def taken_from(
    state: State, block: str, asked: Iterable[str], given: Mapping[str, str], wish: ForBody
) -> TakenFrom:
    """Return what a block takes of the measurements `asked` for.

    Raises NoSuchBody, NothingMeasured, and FollowsABody for one that is given otherwise than it is
    known of the body.
    """
    as_of = known_of(state.body(wish.wearer), wish.date)
    refuse_otherwise(state, block, given, as_of)
    texts = {**as_of.texts, **given}
    taken = {name: texts[name] for name in asked if name in texts}
    more = {name: text for name, text in given.items() if name not in taken}
    return TakenFrom({**taken, **more}, DraftedFor(as_of.body.name, as_of.date))


def refuse_otherwise(state: State, block: str, given: Mapping[str, str], as_of: AsOf) -> None:
    """Refuse a measurement that is given otherwise than a body's set has it.

    Raises FollowsABody: there must not be two answers to what a body measures.
    """
    for name, text in given.items():
        there = as_of.known.get(name)
        if there is not None and not is_same_length(text, there.text, state.unit):
            body = as_of.body.name
            raise FollowsABody(block, body, str(there.date), name, there.text)
