"""One line over edges of several pieces, as they follow one another in a seam."""

from collections.abc import Sequence
from itertools import pairwise

from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.following.as_sewn import edge_beside
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.said import said

_MOST_LINES = 8


def lines_named(text: str) -> tuple[str, ...]:
    """Return the edges that a text names, one after the other; raises BadParameter."""
    lines = tuple(text.split())
    if not 0 < len(lines) <= _MOST_LINES:
        raise BadParameter("to", text or "empty", said("name-lines", most=str(_MOST_LINES)))
    return lines


def runs_of(draft: Draft, lines: Sequence[str]) -> tuple[Run, ...]:
    """Return edges, written `piece.edge`, as runs from the beginning of the first to the last end.

    Each is walked so that it meets the one after it, where a join says so or else at a corner that
    both have. Raises NoSuchName for an edge that is not there, DoesNotFit where two do not meet.
    """
    named = [draft.split_edge_name(line) for line in lines]
    meetings = [_meeting(draft, one, other) for one, other in pairwise(named)]
    if not meetings:
        return (Run(*named[0]),)
    arrives = [*(one for one, _ in meetings), ""]
    leaves = ["", *(other for _, other in meetings)]
    runs = []
    for each, corner_in, corner_out in zip(named, leaves, arrives, strict=True):
        edge = draft.edge(*each)
        backwards = edge.ends_at == corner_in if corner_in else edge.starts_at == corner_out
        if corner_in == corner_out:
            raise _apart(each)
        runs.append(Run(*each, backwards=backwards))
    return tuple(runs)


def _meeting(draft: Draft, one: tuple[str, str], other: tuple[str, str]) -> tuple[str, str]:
    """Return the corners of two edges at which one goes on as the other."""
    for join in draft.joins:
        for first, second in ((join.first, join.second), (join.second, join.first)):
            if _is_of(draft, first, one) and _is_of(draft, second, other):
                return first[2], second[2]
    met = corners_met(draft, one, other)
    if not met or _are_sewn(draft, one, other):
        raise _apart(one)
    if len(met) > 1:
        reason = said("lines-meet-twice", one=".".join(one), other=".".join(other))
        raise DoesNotFit(reason, said("state-join-first"), piece=one[0], edge=one[1])
    return met[0], met[0]


def corners_met(draft: Draft, one: tuple[str, str], other: tuple[str, str]) -> tuple[str, ...]:
    """Return the corners at which two edges of pieces may meet: those that both have.

    Of two it is that at which what lies beside them is sewn together, where that says so.
    """
    corners = [{edge.starts_at, edge.ends_at} for edge in (draft.edge(*one), draft.edge(*other))]
    shared = corners[0] & corners[1]
    sewn = {corner for corner in shared if _are_sewn_at(draft, one, other, corner)}
    return tuple(sorted(sewn if len(shared) > 1 and sewn else shared))


def _are_sewn_at(draft: Draft, one: tuple[str, str], other: tuple[str, str], corner: str) -> bool:
    """Return whether what meets two edges at a corner of both is sewn together."""
    first, second = (
        (name, edge_beside(draft.piece(name), draft.edge(name, edge), corner).name)
        for name, edge in (one, other)
    )
    return _are_sewn(draft, first, second)


def _are_sewn(draft: Draft, one: tuple[str, str], other: tuple[str, str]) -> bool:
    """Return whether two edges lie on each other in a seam."""
    return any(
        any(_is_of_run(draft, run, first) for run in seam.side)
        and any(_is_of_run(draft, run, second) for run in seam.mate)
        for seam in draft.seams
        for first, second in ((one, other), (other, one))
    )


def _is_of_run(draft: Draft, run: Run, line: tuple[str, str]) -> bool:
    return line[1] == run.edge and line[0] in draft.cut_from(run.piece)


def _is_of(draft: Draft, end: tuple[str, str, str], line: tuple[str, str]) -> bool:
    """Return whether an end of a join is one of a line, or of a part that was cut from it."""
    return line[1] == end[1] and line[0] in draft.cut_from(end[0])


def _apart(line: tuple[str, str]) -> DoesNotFit:
    reason, possible = said("lines-do-not-meet"), said("name-lines-in-order")
    return DoesNotFit(reason, possible, piece=line[0], edge=line[1])


def corners_between(draft: Draft, runs: Sequence[Run]) -> tuple[tuple[str, float], ...]:
    """Return the corners at which runs meet, each with its length from the beginning, mm."""
    found, done = [], 0.0
    for run in runs[:-1]:
        edge = draft.edge(run.piece, run.edge)
        done += edge.length
        found.append((edge.starts_at if run.backwards else edge.ends_at, done))
    return tuple(found)
