"""Hypothesis strategies for families of patterns, and for corrections made on their block."""

from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from tests.lineage.making import block, change, child
from trueup.geometry.changes import Change
from trueup.lineage.evaluation.steps import step_from
from trueup.lineage.files.records import NodeRecord, ParentRecord, Role


def mm(low: float, high: float) -> st.SearchStrategy[str]:
    return st.integers(int(low * 10), int(high * 10)).filter(bool).map(lambda n: f"{n / 10:g}mm")


def one(kind: str, **values: Any) -> st.SearchStrategy[Change]:
    drawn = {
        name: each if isinstance(each, st.SearchStrategy) else st.just(each)
        for name, each in values.items()
    }
    return st.fixed_dictionaries(drawn).map(lambda found: change(kind, **found))


pieces = st.sampled_from(["front", "back"])

corrections = st.one_of(
    one("scoop-armhole", piece="front", by=mm(1, 20)),
    one("scoop-armhole", piece="back", by=mm(1, 4)),
    one("deepen-dart", dart=st.sampled_from(["front.bust", "front.waist"]), by=mm(-6, 12)),
    one("deepen-dart", dart=st.sampled_from(["back.waist", "back.shoulder"]), by=mm(-4, 8)),
    one("shorten-shoulder", by=mm(-10, 15)),
    one("slope-shoulder", by=mm(-8, 8)),
    one("lower-armhole", by=mm(2, 20)),
    one("lower-neck", piece=pieces, by=mm(1, 15)),
    one("widen-neck", by=mm(1, 10)),
    one("true-hem", piece=pieces, by=mm(-12, 12)),
    one("raise-cap", by=mm(-8, 12)),
    one("lengthen", by=mm(20, 200)),
    one("lengthen", by=mm(-30, 60), piece="sleeve"),
    one("release-dart", dart=st.sampled_from(["front.waist", "back.waist", "back.shoulder"])),
)

styles = st.one_of(
    corrections,
    one("rotate-dart", dart="front.bust", edge="front.side", at="35% from underarm"),
    one("rotate-dart", dart="front.bust", edge="front.shoulder", at="50% from neck-point"),
    one("redraw-edge", edge="front.armhole", through="30%:20mm 70%:35mm"),
    one("redraw-edge", edge="back.armhole", through="30%:18mm 70%:30mm"),
    one("redraw-edge", edge="front.neck", through="50%:12mm"),
    one("redraw-edge", edge="sleeve.cap", through="25%:-60mm 50%:-140mm 75%:-70mm"),
    one("shape-neck", piece=pieces, shape=st.sampled_from(["round", "v", "square"])),
    one("refit-cap", to=mm(28, 42)),
    one("refit-cap"),
    one("true-hem", piece=pieces),
    one("raise-cap", by=mm(10, 25), gathers=mm(40, 90)),
    one("widen-sleeve", by=mm(10, 80), gathers=mm(10, 80)),
    one("add-ease", by=mm(10, 80)),
    one("shift-shoulder", by=mm(2, 10)),
    one("move-apex", dart="front.bust", by=mm(5, 20)),
)

PARTS = (None, None, None, ("front", "back"), ("sleeve",), ("front",))


@dataclass(frozen=True)
class Case:
    nodes: tuple[NodeRecord, ...]
    fitting: tuple[Change, ...]
    second: tuple[Change, ...]


@st.composite
def cases(draw: st.DrawFn) -> Case:
    nodes: list[NodeRecord] = [block()]
    wholes = ["village"]
    for index in range(draw(st.integers(2, 5))):
        name = f"p{index}"
        parent = draw(st.sampled_from(wholes[-3:]))
        taken = draw(st.sampled_from(PARTS))
        parents = [ParentRecord(parent, taken)]
        if taken == ("front", "back") and draw(st.booleans()):
            parents.append(ParentRecord(draw(st.sampled_from(wholes)), ("sleeve",)))
            if parents[1].name == parent:
                parents = [ParentRecord(parent)]
        steps = [
            step_from(each, role, f"{name}s{number}")
            for number, (role, each) in enumerate(
                [(Role.STYLE, each) for each in draw(st.lists(styles, max_size=3))]
                + [(Role.CORRECTION, each) for each in draw(st.lists(corrections, max_size=1))]
            )
        ]
        nodes.append(child(name, *steps, of=parents))
        if len(parents) == 2 or parents[0].pieces is None:
            wholes.append(name)
    fitting = draw(st.lists(corrections, min_size=1, max_size=2))
    return Case(tuple(nodes), tuple(fitting), (draw(corrections),))
