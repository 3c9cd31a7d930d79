"""Every kind of change as it is used in a garment, and what a correction beneath it comes to."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property, partial
from importlib.resources import files

from trueup.cli.demo.garments import garment_tale
from trueup.cli.demo.in_memory import DAY, state_of
from trueup.cli.demo.playing import changes_told
from trueup.cli.demo.story import StoryStep, read_chapter
from trueup.cli.demo.telling import sample_story
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.evaluation.cache import NoCache
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.summary import Summary
from trueup.lineage.files.records import NodeRecord, Role, StepRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.replay import edits
from trueup.lineage.replay.bookkeeping import Cause
from trueup.lineage.replay.replay import PatternReplay, replay

_HEAD = "0" * 40


class _AtHand(NoCache):
    """What was evaluated for one example: another has the same blocks, corrected alike."""

    def __init__(self) -> None:
        self._kept: dict[str, tuple[Summary, Draft | None]] = {}

    def summary(self, key: str) -> Summary | None:
        return self._kept[key][0] if key in self._kept else None

    def draft(self, key: str) -> Draft | None:
        return self._kept[key][1] if key in self._kept else None

    def keep(self, key: str, summary: Summary, draft: Draft | None) -> None:
        self._kept[key] = (summary, draft or self.draft(key))


_evaluator = partial(Evaluator, cache=_AtHand())


@dataclass(frozen=True)
class Example:
    """A kind as it was first used: the step, on a node that has it as its last one.

    `state` holds that node and all it derives from.
    """

    step: StepRecord
    node: NodeRecord
    state: State

    @property
    def blocks(self) -> tuple[str, ...]:
        """Return the fitted blocks that its node comes from."""
        return tuple(node.name for node in self.state.nodes.values() if not node.parents)

    @property
    def before(self) -> State:
        """Return the state without the step."""
        return self.state.with_nodes([replace(self.node, steps=self.node.steps[:-1])])

    @cached_property
    def drafts(self) -> tuple[Draft, Draft]:
        """Return the node as it is without the step, and with it."""
        old, new = (_evaluator(state).draft(self.node.name) for state in (self.before, self.state))
        return old, new


@dataclass(frozen=True)
class Corrected:
    """A correction of the block beneath an example: the wardrobe before and after, and the verdict.

    `step` is the correction as the block records it.
    """

    block: str
    step: StepRecord
    before: Evaluator
    after: Evaluator
    pattern: PatternReplay


@cache
def examples() -> dict[str, Example]:
    """Return an example of every kind that a garment uses, the kinds in alphabetical order.

    Patterns come before the blocks they derive from, those of every sort before the theatre store.
    """
    found: dict[str, Example] = {}
    for state in (state_of(garment_tale()), state_of(sample_story())):
        nodes = sorted(state.nodes.values(), key=lambda node: (node.is_block, node.name))
        for node in nodes:
            for index, step in enumerate(node.steps):
                if step.kind not in found:
                    found[step.kind] = _example(state, node, index)
    return dict(sorted(found.items()))


def _example(state: State, node: NodeRecord, index: int) -> Example:
    upto = replace(node, steps=node.steps[: index + 1])
    needed: dict[str, NodeRecord] = {}
    waiting = [upto]
    while waiting:
        each = waiting.pop()
        needed[each.name] = each
        waiting += [state.node(parent.name) for parent in each.parents]
    return Example(node.steps[index], upto, State(state.settings, needed))


def garment(name: str) -> Example:
    """Return a garment of them with all its steps."""
    state = state_of(garment_tale(name))
    return _example(state, state.node(name), len(state.node(name).steps) - 1)


def corrections() -> tuple[StoryStep, ...]:
    """Return the corrections that a fitting most often asks of the blocks."""
    text = (files("trueup.sample_wardrobe") / "corrections.toml").read_bytes()
    return read_chapter(text).step


@cache
def met(kind: str) -> tuple[Corrected, ...]:
    """Return what becomes of the example of a kind under each correction of its blocks."""
    return tuple(corrected(examples()[kind]))


def corrected(example: Example) -> Iterator[Corrected]:
    """Yield what becomes of an example when a block of it is corrected, each correction by itself.

    Nothing where the example is a step of the block itself.
    """
    for told in corrections():
        block = str(told.correct)
        if block not in example.blocks or block == example.node.name:
            continue
        changes = changes_told(told.changes, example.state.unit)
        edit = edits.add_steps(example.state, _HEAD, block, changes, Role.CORRECTION, told.why, DAY)
        before = _evaluator(example.state)
        after = _evaluator(example.state.with_nodes(edit.nodes))
        found = replay(before, after, Cause(edit.node, edit.steps, _HEAD))
        pattern = next(each for each in found.patterns if each.name == example.node.name)
        yield Corrected(block, edit.steps[0], before, after, pattern)
