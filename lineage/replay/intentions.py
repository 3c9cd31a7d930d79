"""What a correction was made for, read at its own node, and how much of it arrives elsewhere. Pure.

A correction that draws a line is judged by how far the line moved, one on a dart by its angle where
both darts open on an edge and by its intake otherwise, all others by the measures they mean to
change. One that moved nothing it was made for is judged by every line it drew anew.
"""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Protocol

from trueup.geometry.calling.own_names import in_names
from trueup.geometry.changes import Change
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring import forms
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.sides.naming import names_at, names_wanted, read_at
from trueup.geometry.sides.telling import told_of
from trueup.geometry.tolerance import UNCHANGED
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.replay.verdicts import Carried

_INTAKE = ".intake"

_SAME_TURN = 1e-6
"""Angles, radians, closer than this are one: far below what a pencil shows at any mouth."""


class Read(Protocol):
    """What is read of a draft: its measures (mm), how its lines and darts lie, how it is called."""

    @property
    def measures(self) -> Mapping[str, float]: ...  # noqa: D102

    @property
    def forms(self) -> Mapping[str, forms.Form]: ...  # noqa: D102

    @property
    def called(self) -> Mapping[str, str]: ...  # noqa: D102


@dataclass(frozen=True)
class ReadDraft:
    """A draft read in the middle of a chain."""

    measures: Mapping[str, float]
    forms: Mapping[str, forms.Form]
    called: Mapping[str, str] = field(default_factory=dict)


def read(draft: Draft) -> ReadDraft:
    """Return what is read of a draft."""
    return ReadDraft(measures(draft), forms.forms(draft), draft.called_names)


@dataclass(frozen=True)
class Intention:
    """One thing a correction changed at its node as it was meant to, by `wanted_mm`."""

    name: str
    wanted_mm: float
    move: forms.Form = ()

    @property
    def piece(self) -> str:
        """Return the piece it is read of."""
        return self.name.partition(".")[0]

    def carried(self, old: Read, new: Read) -> Carried:
        """Return how much of it arrived between two readings of another node."""
        got = self._form_move(old, new) if self.move else self._change(old, new)
        return Carried(self.name, self.wanted_mm, got)

    def _form_move(self, old: Read, new: Read) -> float | None:
        was, now = (read_at(each.forms, self.name) for each in (old, new))
        if was is None and now is None:
            return None
        move = forms.moved(was, now)
        if len(move) < len(self.move):  # it is straight before and after
            return 0.0
        return forms.like_move(move, self.move)

    def _change(self, old: Read, new: Read) -> float | None:
        return _change(self.name, old, new)


@dataclass(frozen=True)
class DartIntention(Intention):
    """An intake changed by `wanted_mm`, the angle of the dart by `angle` radians; 0 without one."""

    angle: float = 0.0

    def carried(self, old: Read, new: Read) -> Carried:
        """Return how much arrived: of the angle where there is one, else of the intake.

        Of a dart that was split there, each mouth has its share of it; of one that was joined to
        another, that other has it.
        """
        dart = forms.angle_of(self.name.removesuffix(_INTAKE))
        if self._is_joined(old, new):
            change = _of_piece(new, dart) - _of_piece(old, dart)
            return Carried(self.name, self.wanted_mm, self.wanted_mm * change / self.angle)
        turned = [read_at(each.forms, dart) for each in (old, new)]
        stays_on_edge = all(
            (angle is None) == (read_at(each.measures, self.name) is None)
            for angle, each in zip(turned, (old, new), strict=True)
        )
        if not self.angle or not any(turned) or not stays_on_edge:
            return super().carried(old, new)
        changes = (_angle(new, dart) - _angle(old, dart), _shared(new, dart) - _shared(old, dart))
        change = min(changes, key=lambda each: abs(each - self.angle))
        return Carried(self.name, self.wanted_mm, self.wanted_mm * change / self.angle)

    def _is_joined(self, old: Read, new: Read) -> bool:
        """Return whether the dart is not there, and others of its piece take in more or less."""
        dart = forms.angle_of(self.name.removesuffix(_INTAKE))
        if not self.angle or any(
            read_at(each.measures, self.name) is not None for each in (old, new)
        ):
            return False
        return not math.isclose(_of_piece(old, dart), _of_piece(new, dart), abs_tol=_SAME_TURN)


def _of_piece(read_: Read, angle: str) -> float:
    """Return what all darts that open on an edge of a dart's piece take in, radians."""
    piece, end = f"{angle.partition('.')[0]}.", forms.angle_of("")
    return sum(
        form[0]
        for name, form in read_.forms.items()
        if name.startswith(piece) and name.endswith(end)
    )


def _angle(read_: Read, angle: str) -> float:
    return (read_at(read_.forms, angle) or (0.0,))[0]


def _shared(read_: Read, angle: str) -> float:
    """Return what a dart takes in with all that open from its pivot: it may have been split."""
    dart = angle.removesuffix(forms.angle_of(""))
    together = read_at(read_.forms, forms.shared_angle_of(dart))
    return together[0] if together else _angle(read_, angle)


def _change(name: str, old: Read, new: Read) -> float | None:
    """Return by how much a measure changed, mm; None where it is in neither reading."""
    was, now = (read_at(each.measures, name) for each in (old, new))
    return None if was is None and now is None else (now or 0.0) - (was or 0.0)


def intentions(
    changes: Iterable[Change], draft: Draft, old: Read, new: Read, drawn_anew: Iterable[str]
) -> tuple[Intention, ...]:
    """Return what changes moved of what they were made for, between two readings of their node.

    `draft` is the node before them, `drawn_anew` the edges whose shape they changed: these are what
    is judged where nothing else moved.
    """
    found: dict[str, Intention] = {}
    for change in changes:
        for each in _of(change, draft, old, new):
            found[each.name] = each
    if not found:
        lines = (_form(forms.line_of(edge), old, new) for edge in drawn_anew)
        found = {each.name: each for each in lines if each}
    return tuple(found.values())


def _of(change: Change, draft: Draft, old: Read, new: Read) -> Iterator[Intention]:
    try:
        drawn, meant = (told_of(each, draft, change.side) for each in (change.drawn, change.meant))
    except GeometryError:
        return
    lines = [each for name in drawn if (each := _form(name, old, new))]
    if lines:
        yield from lines
        return
    yield from (each for name in meant if (each := _measure(name, old, new)))


def every_intention(old: Read, new: Read) -> tuple[Intention, ...]:
    """Return all that moved between two readings of a node: its measures, and how its lines lie.

    Of pieces that are called otherwise it is told by their own names.
    """
    called = tuple(f"{name}." for name in {*old.called.values(), *new.called.values()})
    measured = (
        _measure(name, old, new)
        for name in dict.fromkeys((*old.measures, *new.measures))
        if not name.startswith(called)
    )
    lines = (
        name
        for name in dict.fromkeys((*old.forms, *new.forms))
        if forms.is_line(name) and not name.startswith(called)
    )
    drawn = (_form(name, old, new) for name in lines)
    return tuple(each for each in (*measured, *drawn) if each)


def _measure(name: str, old: Read, new: Read) -> Intention | None:
    wanted = _change(name, old, new) or 0.0
    if abs(wanted) <= UNCHANGED:
        return None
    if not name.endswith(_INTAKE):
        return Intention(name, wanted)
    dart = forms.angle_of(name.removesuffix(_INTAKE))
    angle = _angle(new, dart) - _angle(old, dart)
    return DartIntention(name, wanted, angle=angle if abs(angle) > _SAME_TURN else 0.0)


def _form(name: str, old: Read, new: Read) -> Intention | None:
    move = forms.moved(read_at(old.forms, name), read_at(new.forms, name))
    wanted = forms.farthest_move(move)
    return Intention(name, wanted, move) if abs(wanted) > UNCHANGED else None


def as_between(wanted: Intention, old: Read, new: Read) -> Intention:
    """Return a thing wanted by what moved of it between two readings of another node.

    As it was wanted, where nothing did.
    """
    found = (_form if wanted.move else _measure)(wanted.name, old, new)
    return found or wanted


def carried_of(wanted: Iterable[Intention], old: Read, new: Read) -> tuple[Carried, ...]:
    """Return, for each thing wanted, how much arrived between two readings of a node.

    Where left and right differ there, it has to arrive on each. It is told of pieces as the node
    calls them.
    """
    carried = (
        replace(each, name=name).carried(old, new)
        for each in wanted
        for name in _names(each, old, new)
    )
    if not new.called:
        return tuple(carried)
    return tuple(replace(each, name=in_names(each.name, new.called)) for each in carried)


def _names(wanted: Intention, old: Read, new: Read) -> tuple[str, ...]:
    """Return the names under which a thing wanted is read: of each side where either does so."""
    was, now = (each.forms if wanted.move else each.measures for each in (old, new))
    names = names_wanted(now, wanted.name)
    return names_at(was, wanted.name) if names == (wanted.name,) else names


def drawn_by(summary: Summary, steps: Iterable[str]) -> tuple[str, ...]:
    """Return the edges (`piece.edge`) that some of a node's steps were the last to shape."""
    ids = set(steps)
    return tuple(edge for edge, step in sorted(summary.shaped.items()) if step in ids)
