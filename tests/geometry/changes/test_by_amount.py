from dataclasses import replace
from itertools import cycle, islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from tests.builders import block
from tests.fair import sampled
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import KINDS, kind_named
from trueup.geometry.changes.base import Change
from trueup.geometry.errors import BrokenOutline, CannotChange, DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.said import said

MIXED = (
    ("shorten-shoulder", {"by": 0.3}),
    ("lower-armhole", {"by": 0.4}),
    ("scoop-armhole", {"piece": "front", "by": 0.2}),
    ("slope-shoulder", {"by": 0.3}),
    ("add-ease", {"by": 1.0}),
    ("true-hem", {"piece": "back", "by": 0.3}),
    ("lower-neck", {"piece": "front", "by": 0.4}),
    ("widen-neck", {"by": 0.2}),
)


def curves(edge: Edge) -> int:
    return sum(len(part.cubics) for part in edge.parts)


def chained(draft: Draft, times: int, version: int | None = None) -> Draft:
    for kind, values in islice(cycle(MIXED), times):
        draft = kind_named(kind, version)(**values).apply(draft)
    return draft


def test_a_hundred_steps_do_not_multiply_the_curves() -> None:
    """Each once added nine, and after a thousand curves nothing more could be drawn."""
    most = {}
    for version in (1, None):
        after = chained(block(960.0, 760.0), 100 if version is None else 24, version)
        most[version] = max(curves(edge) for piece in after.pieces for edge in piece.edges)
    assert most[1] > 60
    assert most[None] <= 30


@given(drafts(), st.sampled_from([each[0] for each in MIXED]), st.floats(1, 8))
@settings(max_examples=40)
def test_drawn_with_fewer_curves_a_line_stays_where_it_was(
    draft: Draft, kind: str, by: float
) -> None:
    values = {**dict(MIXED)[kind], "by": by}
    try:
        many, few = (kind_named(kind, v)(**values).apply(draft) for v in (1, 2))
    except CannotChange:
        return
    if kind == "widen-neck":  # its second version draws another line
        return
    for piece in many.pieces:
        for edge in piece.edges:
            other = few.edge(piece.name, edge.name)
            assert curves(other) <= curves(edge)
            for one, two in zip(edge.parts, other.parts, strict=True):
                line = LineString([(p.real, p.imag) for p in sampled(two)])
                points = [Point(p.real, p.imag) for p in sampled(one)[::7]]
                assert max(line.distance(point) for point in points) < 0.03


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_change_is_held_to_be_sound_in_one_place(kind: tuple[str, int]) -> None:
    """A kind that works on its own must not forget what all others are asked."""
    assert KINDS[kind].apply is Change.apply


class _Met(Change):
    """A change that meets what is not drawn: something that knows its place in part, or not."""

    kind, version = "met", 1
    dart = "front.bust"

    def __init__(self, error: Exception) -> None:
        self.error = error

    def carried_out(self, draft: Draft) -> Draft:
        raise self.error

    def meant(self, draft: Draft) -> tuple[str, ...]:
        return ()


@pytest.mark.parametrize(
    ("error", "place"),
    [
        (BrokenOutline(said("no-curve")), "front.bust"),
        (DoesNotFit(said("cap-flat")), "front.bust"),
        (DoesNotFit(said("cap-flat"), piece="back"), "back.bust"),
        (DoesNotFit(said("cap-flat"), edge="side", piece="back"), "back.side"),
    ],
)
def test_what_does_not_fit_is_told_with_its_kind_and_the_nearest_place(
    error: Exception, place: str
) -> None:
    with refusing(CannotChange, match=f"^met cannot be done on {place}: "):
        _Met(error).apply(block())


class _Crossing(_Met):
    """A change that turns the outline inside out, and does not look."""

    def carried_out(self, draft: Draft) -> Draft:
        front = draft.piece("front")
        side = front.edge("side")
        far = Chain.line(side.start, side.start + 2000, side.end)
        return draft.with_pieces(front.with_edges(replace(side, parts=(far,), darts=())))


def test_a_kind_that_does_not_look_is_refused_all_the_same() -> None:
    with refusing(CannotChange, match="the outline would cross itself|would run over"):
        _Crossing(ValueError()).apply(block())
