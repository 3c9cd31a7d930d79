"""What became of a pattern since a garment was cut from it."""

from enum import StrEnum

from msgspec import Struct

from trueup.geometry.said import Said, parts
from trueup.lineage.errors import Damaged, NoSuchNode, UnknownRevision
from trueup.lineage.errors.root import told
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.records import NodeRecord, Role, StepRecord
from trueup.lineage.files.state import State
from trueup.lineage.opened import OpenWardrobe
from trueup.lineage.replay.drafted_anew.measurements import Remeasured, remeasured


class Fate(StrEnum):
    """What became of the pattern a garment was cut from."""

    SAME = "same"
    CHANGED = "changed"
    DELETED = "deleted"
    UNREADABLE = "unreadable"


class ChangedStep(Struct, frozen=True):
    """A step that shapes the pattern otherwise than when the garment was cut.

    `how` is `new`, `amended` or `dropped`.
    """

    node: str
    step: StepRecord
    how: str

    @property
    def is_for_fit(self) -> bool:
        """Return whether the step was not made for looks."""
        return self.step.role is not Role.STYLE


class RemeasuredBlock(Struct, frozen=True):
    """A block that is drafted from other measurements than when the garment was cut.

    `made` are the ids of the re-measurings since.
    """

    node: str
    measurements: tuple[Remeasured, ...]
    made: tuple[str, ...] = ()


class Since(Struct, frozen=True):
    """What became of a pattern since a garment was cut from it, or altered to it.

    `steps` are those that are new, amended or dropped, in the pattern and in what it derives from,
    parents first; `blocks` those above it that were measured anew; `says` is a sentence about it;
    `damage` keeps the pattern from being read, now or as it was cut.
    """

    fate: Fate
    says: Said | str
    steps: tuple[ChangedStep, ...] = ()
    blocks: tuple[RemeasuredBlock, ...] = ()
    damage: Damaged | None = None

    @property
    def corrections(self) -> tuple[ChangedStep, ...]:
        """Return the steps that were not made for looks."""
        return tuple(each for each in self.steps if each.is_for_fit)


def since(wardrobe: OpenWardrobe, garment: GarmentRecord) -> Since:
    """Return what became of a garment's pattern; never fails for one that is gone or damaged."""
    try:
        return _since(wardrobe, garment)
    except Damaged as error:
        return Since(Fate.UNREADABLE, parts(error.says, "."), damage=error)


def _since(wardrobe: OpenWardrobe, garment: GarmentRecord) -> Since:
    version, pattern = garment.sewn_as[:10], garment.pattern
    sewn = "altered" if garment.altered_to else "cut"
    from_it = f"it was {sewn} {'to' if garment.altered_to else 'from'}"
    now = wardrobe.evaluator
    is_there = now.state.has(pattern)
    try:
        then = wardrobe.evaluator_at(garment.sewn_as)
        shape = then.summary(pattern).fingerprint
    except Damaged as error:
        says = f"{pattern} at version {version}, which {from_it}, cannot be read"
        return Since(Fate.UNREADABLE, parts(f"{says}: ", told(error.reason), "."), damage=error)
    except (UnknownRevision, NoSuchNode):
        says = f"The history here does not hold {pattern} at version {version}, which {from_it}"
        return Since(Fate.UNREADABLE, f"{says}; fetch the whole history to compare with it.")
    if not is_there:
        says = f"{pattern} was deleted since; version {version} of it is still in the history."
        return Since(Fate.DELETED, says)
    if shape == now.summary(pattern).fingerprint:
        return Since(Fate.SAME, f"{pattern} is as it was when the garment was {sewn}.")
    steps, blocks = changed_steps(pattern, then, now), blocks_remeasured(pattern, then, now)
    return Since(Fate.CHANGED, _says(garment, steps, blocks), steps, blocks)


def _says(
    garment: GarmentRecord, steps: tuple[ChangedStep, ...], blocks: tuple[RemeasuredBlock, ...]
) -> str:
    corrected = blocks or any(each.is_for_fit for each in steps)
    how = "corrected" if corrected else "changed"
    if garment.altered_to:
        return f"{garment.pattern} was {how} since; the cloth is as it was altered."
    if garment.status is Status.ALTERED:
        return (
            f"{garment.pattern} was {how} since, and the garment was altered: what was done to its "
            "cloth was not recorded."
        )
    return f"{garment.pattern} was {how} since; the cloth is as it was cut."


def changed_steps(pattern: str, then: Evaluator, now: Evaluator) -> tuple[ChangedStep, ...]:
    """Return the steps that are new, amended or dropped in a pattern and in what reaches it.

    They stand parents first.
    """
    reaching = {**_followed(pattern, then.state), **_followed(pattern, now.state)}
    followed = [name for name in now.state.in_order if name in _followed(pattern, now.state)]
    gone = sorted(set(reaching) - set(followed))
    found: list[ChangedStep] = []
    for name in (*followed, *gone):
        old = {step.id: step for step in _steps(then.state, name)}
        new = {step.id: step for step in _steps(now.state, name)} if name not in gone else {}
        for made, step in new.items():
            if made not in old:
                found.append(ChangedStep(name, step, "new"))
            elif old[made].values != step.values or old[made].version != step.version:
                found.append(ChangedStep(name, step, "amended"))
        found += [ChangedStep(name, old[made], "dropped") for made in old if made not in new]
    return tuple(each for each in found if each.step.role in reaching[each.node])


def blocks_remeasured(pattern: str, then: Evaluator, now: Evaluator) -> tuple[RemeasuredBlock, ...]:
    """Return the blocks above a pattern, or itself, that are drafted from other measurements."""
    followed = _followed(pattern, now.state)
    blocks = (
        RemeasuredBlock(
            name,
            remeasured(then.state.nodes.get(name), now.state.nodes[name], now.state.unit),
            _made_since(then.state.nodes.get(name), now.state.nodes[name]),
        )
        for name in now.state.in_order
        if len(followed.get(name, ())) == len(Role)
    )
    return tuple(each for each in blocks if each.measurements)


def _made_since(then: NodeRecord | None, now: NodeRecord) -> tuple[str, ...]:
    known = {each.id for each in then.remeasured} if then else set()
    return tuple(each.id for each in now.remeasured if each.id not in known)


def _steps(state: State, name: str) -> tuple[StepRecord, ...]:
    return state.nodes[name].steps if name in state.nodes else ()


def _followed(pattern: str, state: State) -> dict[str, frozenset[Role]]:
    """Return a pattern and all above it whose steps reach it, and steps of which roles do.

    Nothing comes through a held parent, and with the style of another only what is taken of it.
    """
    found: dict[str, frozenset[Role]] = {}
    waiting = [(pattern, frozenset(Role))]
    while waiting:
        name, roles = waiting.pop()
        known = found.get(name, frozenset())
        if name not in state.nodes or roles <= known:
            continue
        found[name] = known | roles
        node = state.nodes[name]
        waiting += [(each.name, roles) for each in node.parents if each.hold is None]
        if node.style is not None and node.style.hold is None and node.style.takes in roles:
            waiting.append((node.style.name, frozenset((node.style.takes,))))
    return found


def dropped_since(state: State, note: FitNote) -> tuple[str, ...]:
    """Return the corrections that mended a note and are in no chain any more.

    None are known to be gone while a chain cannot be read.
    """
    if state.lost_nodes:
        return ()
    there = {step.id for node in state.nodes.values() for step in node.steps}
    there |= {each.id for node in state.nodes.values() for each in node.remeasured}
    return tuple(step for step in note.resolved_by if step not in there)
