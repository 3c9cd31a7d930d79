"""With which amounts a correction stands at the ancestor: the same, scaled, or as is said."""

import dataclasses
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from trueup.geometry.changes import Change
from trueup.geometry.errors import CannotChange, GeometryError, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import parts
from trueup.geometry.sides.naming import read_at
from trueup.geometry.sides.telling import told_of
from trueup.geometry.tolerance import SAME_POINT, UNCHANGED
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import step_from
from trueup.lineage.files.records import NodeRecord, StepRecord, replace
from trueup.lineage.promotion.errors import AmountAsked, CannotPromote
from trueup.lineage.promotion.moving import Moving

_MOST_TRIES = 30
_MET = 1e-7
"""The secant stops here, mm, and what it found is rounded to a millionth: below any fingerprint."""


@dataclass(frozen=True)
class Wish:
    """What the maker says of the amounts; nothing where they follow from the step itself.

    `as_is` keeps them, `scaled` solves the amount so that the pattern keeps its measure, `by` (mm)
    is the amount itself; `dart` (`piece.dart`) is the ancestor's dart that takes the correction.
    """

    as_is: bool = False
    scaled: bool = False
    by: float | None = None
    dart: str | None = None

    @property
    def says_how_much(self) -> bool:
        """Return whether the amount has been said."""
        return self.as_is or self.scaled or self.by is not None


def steps_above(
    evaluator: Evaluator, move: Moving, ancestor: NodeRecord, wish: Wish
) -> tuple[StepRecord, ...]:
    """Return the steps as they stand at the end of the ancestor's chain; they keep their ids.

    Raises AmountAsked where how much belongs there cannot be known, CannotPromote for a feature
    that the ancestor does not have or an amount that cannot be solved, CannotStep.
    """
    draft = evaluator.draft(ancestor.name)
    changes = _placed(draft, move, ancestor.name, wish)
    if wish.by is not None:
        changes = (_with_amount(move, _only(move, changes, "another amount"), wish.by),)
    elif wish.scaled:
        changes = (_scaled(evaluator, move, ancestor, _only(move, changes, "scaling")),)
    _require_possible(draft, move, ancestor.name, changes)
    return _recorded(move, changes)


def _recorded(move: Moving, changes: Sequence[Change]) -> tuple[StepRecord, ...]:
    whole = {s.id for s in move.node.steps if s.fitting == move.steps[0].fitting}
    is_whole = len(move.steps) > 1 and whole == {step.id for step in move.steps}
    found = []
    for step, old, change in zip(move.steps, move.changes, changes, strict=True):
        as_was = change == old and not move.draft.called
        kept = step if as_was else _rewritten(step, change)
        found.append(kept if is_whole else replace(kept, fitting=None))
    return tuple(found)


def _rewritten(step: StepRecord, change: Change) -> StepRecord:
    made = step_from(change, step.role, step.id)
    return replace(step, kind=made.kind, version=made.version, values=made.values)


def _only(move: Moving, changes: Sequence[Change], asked: str) -> Change:
    if len(changes) > 1:
        reason = f"{asked} is for one correction, and {move.steps[0].fitting} is {len(changes)}"
        raise CannotPromote(move.node.name, f"{reason}; move them one by one")
    return changes[0]


# --- the dart it belongs to -----------------------------------------------------------------------


def _placed(draft: Draft, move: Moving, ancestor: str, wish: Wish) -> tuple[Change, ...]:
    """Return the changes on the ancestor's own darts."""
    if wish.dart is not None and wish.dart != getattr(move.changes[0], "dart", None):
        return (_on_other_dart(draft, move, ancestor, wish),)
    for change in move.changes:
        dart = getattr(change, "dart", None)
        if dart is None or (wish.says_how_much and dart in draft.dart_names):
            continue
        if dart not in draft.dart_names:
            piece = dart.partition(".")[0]
            known = tuple(d for d in draft.dart_names if d.startswith(f"{piece}."))
            raise AmountAsked(move.node.name, ancestor, dart, (), known)
        shared = _shared_with(draft, move.draft, dart)
        if shared:
            raise AmountAsked(move.node.name, ancestor, dart, shared, ())
    return move.changes


def _on_other_dart(draft: Draft, move: Moving, ancestor: str, wish: Wish) -> Change:
    change = _only(move, move.changes, "another dart")
    if not hasattr(change, "dart"):
        reason = f"{change.kind} is made on no dart, so name none"
        raise CannotPromote(move.node.name, reason)
    if wish.dart not in draft.dart_names:
        raise NoSuchName("dart", str(wish.dart), ancestor, draft.dart_names)
    if not wish.says_how_much:
        raise AmountAsked(move.node.name, ancestor, change.dart, (), (str(wish.dart),))
    return _changed(change, dart=wish.dart)


def _shared_with(above: Draft, here: Draft, dart: str) -> tuple[str, ...]:
    """Return the darts above whose intake the one dart here has taken over, at least in part."""
    piece, _, name = dart.partition(".")
    if not here.has_piece(piece) or name not in here.piece(piece).dart_names:
        return ()
    mine, theirs = here.piece(piece), above.piece(piece)
    gone = [each for each in theirs.dart_names if each not in mine.dart_names]
    if _take(mine, name) <= _take(theirs, name) + SAME_POINT:
        return ()
    return tuple(f"{piece}.{each}" for each in gone)


def _take(piece: Piece, dart: str) -> float:
    """Return what a dart takes in: radians on an edge, mm for one inside a piece."""
    inner = next((each for each in piece.inner_darts if each.name == dart), None)
    return inner.intake if inner else abs(piece.mouth(dart).angle)


# --- the amount -----------------------------------------------------------------------------------


def _amount_name(change: Change) -> str | None:
    return next((n for n in ("by", "to") if isinstance(getattr(change, n, None), float)), None)


def _changed(change: Change, **values: Any) -> Change:
    return dataclasses.replace(change, **values)


def _with_amount(move: Moving, change: Change, amount: float) -> Change:
    name = _amount_name(change)
    if name is None:
        reason = f"{change.kind} has no amount that could be another, so give none"
        raise CannotPromote(move.node.name, reason)
    return _changed(change, **{name: None, "by": amount} if name == "to" else {"by": amount})


def _scaled(evaluator: Evaluator, move: Moving, ancestor: NodeRecord, change: Change) -> Change:
    """Return the change with the amount by which the pattern keeps the measure it was made for.

    The amount is found by the secant rule on replays of the pattern.
    """
    name = _amount_name(change)
    meant = told_of(move.changes[0].meant, move.draft, move.changes[0].side)
    if name is None or not meant:
        reason = f"{change.kind} has no amount to scale, so move it as it is"
        raise CannotPromote(move.node.name, reason)
    measure, node = meant[0], move.node.name
    target = read_at(evaluator.summary(node).measures, measure)
    if target is None:
        reason = f"{measure} is no longer there to scale by; use --as-is or --by"
        raise CannotPromote(node, reason)

    unsolved = f"no amount was found that leaves {measure} as it is; use --as-is or --by"

    def off(amount: float) -> float:
        steps = _recorded(move, [_changed(change, **{name: amount})])
        above = replace(ancestor, steps=(*ancestor.steps, *steps))
        after = evaluator.beside(move.node_without, above)
        if any(p.step == steps[0].id for p in after.summary(ancestor.name).problems):
            raise CannotPromote(
                node, f"no amount was found that leaves {measure} as it is; use --as-is or --by"
            )
        return (read_at(after.summary(node).measures, measure) or 0.0) - target

    found = _secant(off, float(getattr(change, name)))
    if found is None:
        raise CannotPromote(node, unsolved)
    return _changed(change, **{name: round(found, 6)})


def _secant(off: Callable[[float], float], start: float) -> float | None:
    """Return an amount near `start` at which `off` comes to nothing, None where none is found."""
    old, new = start, start * 0.9
    at_old, at_new = off(old), off(new)
    for _ in range(_MOST_TRIES):
        if abs(at_old) < abs(at_new):
            old, new, at_old, at_new = new, old, at_new, at_old
        if abs(at_new) <= _MET or at_new == at_old:
            break
        step = at_new * (new - old) / (at_new - at_old)
        old, at_old = new, at_new
        new = new - step
        at_new = off(new)
    return new if abs(at_new) <= UNCHANGED else None


def _require_possible(draft: Draft, move: Moving, ancestor: str, changes: Sequence[Change]) -> None:
    """Refuse a feature that the ancestor does not have, and what it cannot carry out."""
    for change in changes:
        try:
            draft = change.apply(draft)
        except NoSuchName as error:
            lacks = f"{ancestor} does not have what it changes ("
            reason = parts(lacks, error.says, "); name another with --to")
            raise CannotPromote(move.node.name, reason) from error
        except CannotChange as error:
            raise CannotStep(ancestor, error.says) from error
        except GeometryError as error:
            raise CannotPromote(move.node.name, error.says) from error
