from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from tests.judging.random_wardrobes import any_change
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import BadParameter, CannotChange, GeometryError, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.said import Said
from trueup.geometry.units import Unit

NECK = {"to": "back.neck front.neck", "width": 8.0}


def bound(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-binding")(**{**NECK, **values}).apply(draft)


def sewn(draft: Draft, name: str) -> float:
    return sum(
        float(np.abs(np.diff(closed_points(draft.edge(piece, name)))).sum())
        for piece in ("front", "back")
    )


def strip(draft: Draft) -> float:
    line = sampled(draft.edge("binding", "sewn-edge").parts[0])
    return float(np.abs(np.diff(line)).sum())


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(3, 20), st.floats(0, 15), st.booleans())
@settings(max_examples=40)
def test_it_is_as_long_as_the_line_and_cut_four_times_as_wide_as_it_shows(
    draft: Draft, width: float, shorter: float, slanted: bool
) -> None:
    after = bound(draft, width=width, shorter=shorter, slanted=slanted)
    piece = after.piece("binding")
    assert strip(after) == pytest.approx(sewn(draft, "neck") - shorter, abs=0.01)
    points = np.array([edge.start for edge in piece.edges])
    cloth = shapely.Polygon(np.column_stack([points.real, points.imag]))
    high = points.imag.max() - points.imag.min()
    assert cloth.area == pytest.approx(strip(after) * high, rel=1e-4)
    assert high + sum(mm for _, mm in piece.allowances) == pytest.approx(4 * width, abs=1e-6)
    assert check(after) == check(draft)


@pytest.mark.parametrize("slanted", [False, True])
def test_its_threads_and_its_joined_ends_lie_at_45_degrees(slanted: bool) -> None:
    piece = bound(block(), slanted=slanted).piece("binding")
    edge, grain = piece.edge("sewn-edge"), piece.grainline
    assert grain is not None
    angle = np.degrees(np.angle((grain.end - grain.start) / (edge.end - edge.start)))
    assert abs(angle) == pytest.approx(45.0)
    end = piece.edge("end")
    turned = np.degrees(np.angle((end.end - end.start) / (edge.end - edge.start)))
    assert abs(turned) == pytest.approx(45.0 if slanted else 90.0)
    ends = [piece.edge(name).start - piece.edge(name).end for name in ("end", "beginning")]
    assert ends[0] == pytest.approx(-ends[1])


@given(drafts(), st.floats(60, 700), st.booleans())
@settings(max_examples=30)
def test_no_strip_is_longer_than_the_cloth_gives_and_joins_run_along_the_thread(
    draft: Draft, longest: float, slanted: bool
) -> None:
    after = bound(draft, to="back.armhole front.armhole", longest=longest, slanted=slanted)
    piece = after.piece("binding")
    places = {(n.name, n.edge): piece.edge(n.edge).point_at(n.at.along(piece.edge(n.edge)))
              for n in piece.notches if n.name.startswith("join")}  # fmt: skip
    below = sorted(p.real for (_, edge), p in places.items() if edge == "sewn-edge")
    steps = np.diff([0.0, *below, strip(after)])
    assert steps.max() <= longest + 1e-6
    assert steps.max() - steps.min() < 1e-6
    for (name, edge), place in places.items():
        if edge == "outer-edge":
            way = place - places[name, "sewn-edge"]
            assert way.real == pytest.approx(-way.imag, abs=1e-6)


@given(drafts(), st.integers(0, 2**32))
@settings(max_examples=40, deadline=None)
def test_it_follows_its_line_through_every_change(draft: Draft, seed: int) -> None:
    after, dice = bound(draft), Random(seed)
    for _ in range(3):
        try:
            after = any_change(dice, looks=True).apply(after)
        except GeometryError:
            continue
    assert strip(after) == pytest.approx(sewn(after, "neck"), abs=0.02)


def test_made_before_or_after_a_change_it_is_the_same() -> None:
    lower = kind_named("lower-neck")(piece="front", by=12.0)
    assert fingerprint(lower.apply(bound(block()))) == fingerprint(bound(lower.apply(block())))


def test_it_is_notched_at_the_shoulder_and_where_it_is_folded() -> None:
    piece = bound(block(), shorter=10.0).piece("binding")
    back = float(np.abs(np.diff(closed_points(block().edge("back", "neck")))).sum())
    shoulder, *folds = piece.notches
    whole = sewn(block(), "neck")
    assert shoulder.at.distance == pytest.approx(back * (whole - 10) / whole, abs=0.01)
    assert [(n.name, n.edge) for n in folds] == [("fold-line", "end"), ("fold-line", "beginning")]


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"shorter": 200.0}, "nothing-left"),
        ({"name": "sleeve"}, "name-is-taken"),
        ({"to": "back.neck front.hem"}, "lines-do-not-meet"),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str) -> None:
    with pytest.raises(CannotChange) as refused:
        bound(block(), **values)
    assert reason in reasons(refused.value.says)


def test_a_line_and_a_name_that_cannot_be_are_refused() -> None:
    with pytest.raises(NoSuchName):
        bound(block(), to="front.collar")
    with pytest.raises(BadParameter):
        bound(block(), name="Bias strip")


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-binding")(**NECK).in_words(Unit.MILLIMETRE)
    assert told == "draft the binding of back.neck and front.neck, 8 mm wide"
