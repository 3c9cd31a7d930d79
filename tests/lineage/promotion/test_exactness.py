"""Exact where the two orders agree, and where not, by how much: measured independently."""

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.lineage.making import block, state, step
from tests.lineage.promotion.families import (
    AS_IS,
    correction,
    family,
    moved,
    of,
    scoop,
)
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.units import Unit
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.steps import change_of
from trueup.lineage.files.records import StepRecord, replace
from trueup.lineage.files.state import State
from trueup.lineage.promotion.errors import CannotPromote
from trueup.lineage.replay.verdicts import Verdict

mm = st.integers(1, 12).map(lambda n: f"{n}mm")
STYLES: dict[str, st.SearchStrategy[dict[str, Any]]] = {
    "lower-neck": st.fixed_dictionaries({"piece": st.sampled_from(["front", "back"]), "by": mm}),
    "shorten-shoulder": st.fixed_dictionaries({"by": mm}),
    "lower-armhole": st.fixed_dictionaries({"by": mm}),
    "lengthen": st.fixed_dictionaries({"by": st.integers(20, 200).map(lambda n: f"{n}mm")}),
    "raise-cap": st.fixed_dictionaries({"by": mm}),
    "scoop-armhole": st.fixed_dictionaries({"piece": st.sampled_from(["front"]), "by": mm}),
    "rotate-dart": st.just({"dart": "front.bust", "edge": "front.side", "at": "35% from underarm"}),
    "release-dart": st.just({"dart": "back.shoulder"}),
}
ON_OTHER_LINES = ["lower-neck", "lengthen", "raise-cap"]
CORRECTIONS = {
    **{k: STYLES[k] for k in ("lower-neck", "shorten-shoulder", "raise-cap", "scoop-armhole")},
    "deepen-dart": st.fixed_dictionaries({"dart": st.just("front.waist"), "by": mm}),
    "slope-shoulder": st.fixed_dictionaries({"by": mm}),
}


@st.composite
def steps(draw: st.DrawFn, prefix: str, most: int) -> tuple[StepRecord, ...]:
    kinds = draw(st.lists(st.sampled_from(sorted(STYLES)), max_size=most))
    return tuple(
        step(f"{prefix}{index}", kind, **draw(STYLES[kind])) for index, kind in enumerate(kinds)
    )


@st.composite
def chains(draw: st.DrawFn) -> tuple[State, str]:
    kind = draw(st.sampled_from(sorted(CORRECTIONS)))
    made = correction("made", kind, **draw(CORRECTIONS[kind]))
    own = (*draw(steps("a", 2)), made, *draw(steps("b", 2)))
    start = family(*own, easy=draw(steps("e", 2)))
    village = replace(start.node("village"), steps=draw(steps("v", 1)))
    return start.with_nodes([village]), draw(st.sampled_from(["village", "easy"]))


def points(edge: Edge) -> list[list[complex]]:
    return [
        [
            (1 - t) ** 3 * c.start + 3 * (1 - t) ** 2 * t * c.start_control
            + 3 * (1 - t) * t**2 * c.end_control + t**3 * c.end
            for c in part.cubics
            for t in (k / 48 for k in range(49))
        ]
        for part in edge.parts
    ]  # fmt: skip


def apart(one: Edge, other: Edge) -> float:
    """Return how far the farthest point of either line lies from the other, read off points."""

    def off(line: list[list[complex]], facing: list[list[complex]]) -> float:
        p = np.array([q for part in line for q in part])[:, None]
        a = np.array([q for part in facing for q in part[:-1]])[None, :]
        b = np.array([q for part in facing for q in part[1:]])[None, :]
        way = b - a
        size = np.where(abs(way) == 0, 1, abs(way) ** 2)
        along = np.clip(((p - a) * way.conjugate()).real / size, 0, 1)
        return float(abs(p - (a + along * way)).min(axis=1).max())

    return max(off(points(one), points(other)), off(points(other), points(one)))


def length(edge: Edge) -> float:
    return sum(abs(b - a) for part in points(edge) for a, b in pairwise(part))


def by_hand(start: State, to: str) -> Draft:
    """Return the blouse with the correction at the end of the ancestor's chain."""
    draft = Evaluator(state(block("bare"))).draft("bare")
    for name in ("village", "easy", "blouse"):
        steps_here = [s for s in start.node(name).steps if s.id != "made"]
        if name == to:
            steps_here += [s for s in start.node("blouse").steps if s.id == "made"]
        for each in steps_here:
            try:
                draft = change_of(each, Unit.MILLIMETRE).apply(draft)
            except GeometryError:
                continue
    return draft


@settings(max_examples=120)
@given(chains())
def test_a_promotion_is_exact_where_orders_agree_and_says_by_how_much_where_not(
    chain: tuple[State, str],
) -> None:
    start, to = chain
    try:
        result, after, found = moved(start, "made", to, AS_IS)
    except (CannotPromote, CannotStep):
        return
    was, now = Evaluator(start).draft("blouse"), by_hand(start, to)
    told = {each.edge: each for each in result.difference.edges}
    read = {}
    for name in was.edge_names:
        one, other = (d.edge(*d.split_edge_name(name)) for d in (was, now))
        read[name] = distance = apart(one, other)
        if name not in told:
            assert distance < 1e-4, name
            continue
        assert told[name].moved == pytest.approx(distance, abs=0.02), name
        assert told[name].before == pytest.approx(length(one), abs=0.01)
        assert told[name].after == pytest.approx(length(other), abs=0.01)
    if result.is_exact:
        assert max(read.values()) < 1e-4
        assert not result.difference.edges
        assert of(found, "blouse").verdict is Verdict.CARRIED
    summaries = [e.summary("blouse").fingerprint for e in (Evaluator(start), after)]
    assert result.is_exact == (summaries[0] == summaries[1])
    if not result.is_exact:
        assert not result.difference.is_none


@settings(max_examples=60)
@given(
    mm, st.lists(st.sampled_from(["lower-neck", "lengthen", "raise-cap"]), max_size=4), st.data()
)
def test_steps_on_other_lines_never_stand_in_the_way(
    by: str, kinds: list[str], data: st.DataObject
) -> None:
    """A scooped armhole meets no step on neck, hem or cap: any order gives the same."""
    own = [step(f"s{i}", kind, **data.draw(STYLES[kind])) for i, kind in enumerate(kinds)]
    at = data.draw(st.integers(0, len(own)))
    split = data.draw(st.integers(0, at))
    start = family(*own[split:at], scoop("made", by), *own[at:], easy=tuple(own[:split]))
    result, _, _ = moved(start, "made", "village")
    assert result.is_exact
    assert result.difference.is_none
