"""What of a block drafted anew does not arrive whole in a pattern, and by which own step. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass

from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import listed
from trueup.lineage.evaluation.chain import Stage
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import StepRecord
from trueup.lineage.replay.intentions import Intention, Read, carried_of, read

_MOST_NAMED = 3  # places named for one step


@dataclass(frozen=True)
class Hindering:
    """An own step of a pattern, and what does not arrive whole because of it.

    `is_gone` tells that nothing of it does, `trues` that the step makes lines fit others as these
    come; `can_be_made` is None for a step that is made before and now, else whether it can be now.
    """

    step: StepRecord
    wanted: tuple[Intention, ...]
    is_gone: bool
    trues: bool
    can_be_made: bool | None

    @property
    def places(self) -> str:
        """Return the places in words; of many only some, and how many more."""
        names = list(dict.fromkeys(each.name.removesuffix(".line") for each in self.wanted))
        more = len(names) - _MOST_NAMED
        return listed(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")

    @property
    def note(self) -> str:
        """Return in words what the step does to what should arrive."""
        own = f"its own {self.step.kind}"
        if self.can_be_made is not None:
            return f"{own} can{' ' if self.can_be_made else 'not '}be made with it"
        return f"{own} {'overwrote' if self.is_gone else 'changes what arrives of'} {self.places}"


@dataclass(frozen=True)
class ComingShort:
    """What does not arrive whole in a pattern: by its own steps, and what came so from above."""

    own: tuple[Hindering, ...]
    from_above: tuple[Intention, ...]


def wanted_at(
    after: Evaluator, name: str, wanted: Sequence[Intention], block: str
) -> tuple[Intention, ...]:
    """Return what is wanted of a pattern of a block: of the pieces that come from there.

    All of it where none does, for then nothing of it can arrive.
    """
    comes = {each.piece: _comes_from(after, name, each.piece, block) for each in wanted}
    return tuple(each for each in wanted if comes[each.piece]) or tuple(wanted)


def _comes_from(evaluator: Evaluator, name: str, piece: str, block: str) -> bool:
    while name != block:
        giver = evaluator.giver(name, piece)
        if giver is None:
            return False
        evaluator, name = giver
    return True


def coming_short(
    wanted: Sequence[Intention], before: Evaluator, after: Evaluator, name: str
) -> ComingShort:
    """Return what of things wanted does not arrive whole in a pattern, as it was and as it is.

    Each is laid to the own step from which on it is not whole any more, if it was before.
    """
    old, new = before.summary(name), after.summary(name)
    short = [each for each in wanted if not _is_whole(each, old, new)]
    if not short:
        return ComingShort((), ())
    pairs = list(zip(before.stages(name), after.stages(name), strict=False))
    read_off = [(read(was.draft), read(now.draft)) for was, now in pairs]
    behind: dict[int, list[Intention]] = {}
    for each in short:
        whole = [place for place, pair in enumerate(read_off) if _is_whole(each, *pair)]
        behind.setdefault(whole[-1] + 1 if whole else 0, []).append(each)
    from_above = behind.pop(0, [])
    own = [
        _hindering(*pairs[place], behind[place], read_off[place], after.state.unit)
        for place in sorted(behind)
        if place < len(pairs)
    ]
    return ComingShort(tuple(each for each in own if each), tuple(from_above))


def _hindering(
    was: Stage, now: Stage, wanted: Sequence[Intention], pair: tuple[Read, Read], unit: Unit
) -> Hindering | None:
    if now.step is None:
        return None
    made, is_made = (stage.problem is None for stage in (was, now))
    gone = all(each.vanished for each in carried_of(wanted, *pair))
    can_be_made = None if made is is_made else is_made
    # What is bound to the body comes with it, as what trues does.
    is_bound = was.step is not None and was.step.values != now.step.values
    trues = is_bound or _trues(now.step, unit)
    return Hindering(now.step, tuple(wanted), gone, trues, can_be_made)


def _trues(step: StepRecord, unit: Unit) -> bool:
    try:
        return change_of(step, unit).trues
    except GeometryError:
        return False


def _is_whole(wanted: Intention, old: Read, new: Read) -> bool:
    return all(each.arrived for each in carried_of((wanted,), old, new))
