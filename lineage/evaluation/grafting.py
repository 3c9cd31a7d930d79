"""Whose steps a graft takes over: of a lineage, those of one role, down to its block. Pure.

A graft is the lineage of a pattern with its block exchanged for another: the steps made for looks
are made again there, in their order; those made for the fit stay behind, for the fit comes from
the other block. So do those by which conflicts were decided: what they answered was of that body,
and what does not fit the other is found there anew, with remedies for it.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from itertools import count
from typing import TYPE_CHECKING, Protocol

from msgspec import Struct

from trueup.lineage.errors import BadRecord
from trueup.lineage.files.records import (
    NodeRecord,
    ParentRecord,
    Role,
    StepRecord,
    StyleRecord,
    WorkedNode,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.limits import MOST_JOINED_STYLES

if TYPE_CHECKING:
    from trueup.geometry.amounts import Body
    from trueup.geometry.pieces.draft import Draft
    from trueup.geometry.units import Unit
    from trueup.lineage.evaluation.chain import Stage
    from trueup.lineage.evaluation.summary import Problem


class Taken(Struct, frozen=True):
    """A step taken over, and the node in whose chain it stands."""

    node: str
    step: StepRecord


class Scion(Struct, frozen=True):
    """A chain to be made on another block: what it stands on, and its steps.

    `on` are those it stands on, each with the pieces taken from it (all where None): none where it
    stands on the block itself.
    """

    steps: tuple[Taken, ...] = ()
    on: tuple[tuple["Scion", tuple[str, ...] | None], ...] = ()

    @property
    def every(self) -> Iterator[Taken]:
        """Yield all its steps, those it stands on first."""
        for below, _ in self.on:
            yield from below.every
        yield from self.steps

    def mapped(
        self,
        change: Callable[[StepRecord], StepRecord],
        called: Callable[[str], str] = str,
    ) -> "Scion":
        """Return it with every step changed, and pieces called otherwise."""
        steps = tuple(Taken(each.node, change(each.step)) for each in self.steps)
        on = tuple(
            (below.mapped(change, called), pieces and tuple(map(called, pieces)))
            for below, pieces in self.on
        )
        return Scion(steps, on)

    @property
    def below(self) -> "Scion | None":
        """Return the same without its own steps; None where it stands on the block itself."""
        return Scion((), self.on) if self.on else None

    def without(self, ids: Collection[str], own: Iterable[StepRecord] = ()) -> "Scion":
        """Return it without what is left out, and with what stands in for steps of it."""
        instead = {step.id: step for step in own if step.stands_in}
        steps = tuple(
            Taken(each.node, instead.get(each.step.id, each.step))
            for each in self.steps
            if each.step.id not in ids
        )
        return Scion(steps, tuple((below.without(ids, own), p) for below, p in self.on))


class Followed(Protocol):
    """Who knows a wardrobe, and what it was at the versions that nodes stay on."""

    @property
    def state(self) -> State: ...  # noqa: D102

    def followed(self, parent: ParentRecord) -> "Followed": ...  # noqa: D102


def scion_of(asked: Followed, style: StyleRecord, own: Sequence[StepRecord] = ()) -> Scion:
    """Return the chain that a node takes over, with what stands in for steps of it."""
    source = asked.followed(ParentRecord(style.name, None, style.hold))
    found = _chain(source, style.name, style.takes, count())
    return _called_there(found, style).without(style.without, own)


def _called_there(scion: Scion, style: StyleRecord) -> Scion:
    """Return a chain with what its steps name called as the node calls it that takes it over."""
    if not style.called:
        return scion
    # The kinds are loaded, and all geometry with them, where one of them may be told otherwise.
    from trueup.geometry.calling.other_names import OtherNames  # noqa: PLC0415
    from trueup.geometry.changes.elsewhere import told_elsewhere  # noqa: PLC0415

    names = OtherNames(style.called)
    return scion.mapped(
        lambda s: replace(s, values=told_elsewhere(s.kind, s.version, s.values, names)), names.piece
    )


def _chain(asked: Followed, name: str, role: Role, met: Iterator[int]) -> Scion:
    """Return the chain of a node; raises BadRecord where it is joined of too many.

    A pattern joined of two, each of them joined of the same two, and so on, would have no end.
    """
    node = asked.state.node(name)
    if next(met) > MOST_JOINED_STYLES:
        reason = f"its style comes together from more than {MOST_JOINED_STYLES} patterns"
        raise BadRecord(node.path, reason, "parents")
    made = tuple(Taken(name, s) for s in node.steps if s.role is role and not s.stands_in)
    if node.style is not None and node.style.takes is role:
        there = asked.followed(ParentRecord(node.style.name, None, node.style.hold))
        under = _called_there(_chain(there, node.style.name, role, met), node.style)
        under = under.without(node.style.without, node.steps)
        return Scion((*under.steps, *made), under.on)
    on = tuple((_chain(asked.followed(p), p.name, role, met), p.pieces) for p in node.parents)
    if len(on) == 1 and on[0][1] is None:
        return Scion((*on[0][0].steps, *made), on[0][0].on)
    return Scion(made, on)


def stand_ins(node: NodeRecord) -> tuple[StepRecord, ...]:
    """Return the steps of a node that stand in for steps of the style it takes."""
    if isinstance(node, WorkedNode):
        return node.instead
    return tuple(step for step in node.steps if step.stands_in)


def worked(
    node: NodeRecord, taken: Scion | None, as_it_comes: Callable[[StepRecord], StepRecord]
) -> NodeRecord:
    """Return a node with the steps it is worked out by: those taken over on top, then its own.

    `as_it_comes` gives a step with what its amounts come to. The node itself where that is all.
    """
    own = node.steps if taken is None else tuple(s for s in node.steps if not s.stands_in)
    above = () if taken is None else tuple(each.step for each in taken.steps)
    steps = tuple(as_it_comes(step) for step in (*above, *own))
    if taken is None and all(a is b for a, b in zip(steps, own, strict=True)):
        return node
    fields = {name: getattr(node, name) for name in NodeRecord.__struct_fields__}
    return WorkedNode(**{**fields, "steps": steps}, instead=stand_ins(node))


def content(scion: Scion) -> list[object]:
    """Return all that a chain is made of, as it goes into the key of a node."""
    steps = [each.step for each in scion.steps]
    return [
        [[s.id, s.kind, s.version, s.values] for s in steps],
        [[content(below), pieces] for below, pieces in scion.on],
    ]


class Grown(Struct, frozen=True):
    """What a chain comes to on a block: what could not be made, and which step shaped an edge."""

    draft: "Draft"
    problems: tuple["Problem", ...]
    shaped: Mapping[str, str]


def stages_beneath(
    scion: Scion, path: str, block: "Draft", unit: "Unit", body: "Body"
) -> "tuple[tuple[Stage, ...], ...]":
    """Return the stages of each chain that one stands on, the lowest first; raises as `grown`."""
    from trueup.lineage.evaluation.chain import stages_on  # noqa: PLC0415  (loads the geometry)

    found: list[tuple[Stage, ...]] = []
    for below, _ in scion.on:
        found += stages_beneath(below, path, block, unit, body)
        under = below.below
        start = grown(under, path, block, unit, body).draft if under else block
        found.append(stages_on(start, [each.step for each in below.steps], unit, body))
    return tuple(found)


def grown(scion: Scion, path: str, block: "Draft", unit: "Unit", body: "Body") -> Grown:
    """Return what a chain comes to on a block; raises BadRecord where its pieces do not come apart.

    `path` is the file of the node that takes it over.
    """
    from trueup.lineage.evaluation.chain import made_on  # noqa: PLC0415  (loads the geometry)
    from trueup.lineage.evaluation.starting import joined  # noqa: PLC0415

    start, problems, shaped = block, list["Problem"](), dict[str, str]()
    if scion.on:
        parts = [(grown(below, path, block, unit, body), pieces) for below, pieces in scion.on]
        start = joined(path, [(part.draft, pieces) for part, pieces in parts])
        for part, pieces in parts:
            problems += part.problems
            there = pieces or part.draft.piece_names
            for edge, step in part.shaped.items():
                if edge.partition(".")[0] in there:
                    shaped[edge] = step
    made = made_on(start, [each.step for each in scion.steps], unit, body)
    return Grown(made.draft, (*problems, *made.problems), {**shaped, **made.shaped})
