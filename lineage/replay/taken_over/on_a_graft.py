"""What a style step is to do where a graft takes it over: what it does on that body. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from trueup.geometry.calling.other_names import OtherNames
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.evaluation.chain import Stage
from trueup.lineage.evaluation.grafting import stand_ins
from trueup.lineage.files.records import NodeRecord
from trueup.lineage.replay.corrections import Correction
from trueup.lineage.replay.intentions import Intention, as_between, read


def wanted_on(correction: Correction, name: str) -> tuple[Intention, ...]:
    """Return what steps of a style mean to change in a graft, by what they move where made there.

    An amount that is bound to the body, and a dart that is closed whole, come to something else on
    another body. As in the pattern they are of, where they move nothing.
    """
    old, new = (each.stages(name) for each in (correction.before, correction.after))
    drafts = _after_step(old, new, correction.ids), _after_step(new, old, correction.ids)
    style = correction.after.state.node(name).style
    names = OtherNames(style.called if style else {})
    wanted = tuple(replace(each, name=names.measure(each.name)) for each in correction.wanted)
    if not all(drafts):
        return wanted
    was, now = (read(draft) for draft in drafts if draft)
    return tuple(as_between(each, was, now) for each in wanted)


def _after_step(chain: Sequence[Stage], other: Sequence[Stage], ids: Sequence[str]) -> Draft | None:
    """Return a chain's draft after the last of some steps; where it has none, after what it follows
    in the other chain. None where neither has it.
    """
    at = _place(chain, ids)
    if at is not None:
        return chain[at].draft
    there = _place(other, ids)
    if there is None:
        return None
    for stage in reversed(other[:there]):
        if stage.step is None:
            return chain[0].draft
        before = _place(chain, (stage.step.id,))
        if before is not None:
            return chain[before].draft
    return None


def _place(chain: Sequence[Stage], ids: Sequence[str]) -> int | None:
    found = [at for at, stage in enumerate(chain) if stage.step and stage.step.id in ids]
    return found[-1] if found else None


def beside(old: Sequence[Stage], new: Sequence[Stage]) -> Iterator[tuple[Stage, Stage]]:
    """Yield each stage of a chain with the same of the chain as it was before.

    A step that a graft takes over newly stands in the midst of its chain: beside it is what came
    before it.
    """
    places = {stage.step.id: at for at, stage in enumerate(old) if stage.step}
    at = 0
    for stage in new:
        if stage.step is not None:
            at = places.get(stage.step.id, at)
        yield old[at], stage


def instead_of(node: NodeRecord, correction: Correction) -> str:
    """Return in words what a graft has instead of a step of its style; empty where it takes it."""
    if node.style is None:
        return ""
    own = next((step for step in stand_ins(node) if step.id in correction.ids), None)
    if own is not None:
        return f"its own {own.kind} is made instead"
    is_left_out = any(step in node.style.without for step in correction.ids)
    return "it is left out there" if is_left_out else ""
