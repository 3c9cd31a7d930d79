import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, sampled
from tests.strategies import drafts
from trueup.geometry.changes import kind_named
from trueup.geometry.errors import CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.pieces.draft import Draft, Run
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.said import Said
from trueup.geometry.units import Unit


def shawled(draft: Draft, **values: object) -> Draft:
    return kind_named("draft-shawl")(**{"opens": 150.0, **values}).apply(draft)


def length(edge: Edge) -> float:
    return sum(float(np.abs(np.diff(sampled(part))).sum()) for part in edge.parts)


def reasons(says: Said) -> set[str]:
    return {says.what}.union(*(reasons(each) for each in says.also))


@given(drafts(), st.floats(130, 250), st.floats(0, 40), st.floats(20, 45), st.floats(5, 30))
@settings(max_examples=40)
def test_its_neck_edge_is_as_long_as_the_neck_of_the_back_and_its_centre_as_stand_and_fall(
    draft: Draft, opens: float, extension: float, stand: float, spring: float
) -> None:
    after = shawled(draft, opens=opens, extension=extension, stand=stand, spring=spring)
    piece = after.piece("front")
    back = float(np.abs(np.diff(closed_points(draft.edge("back", "neck")))).sum())
    assert length(piece.edge("collar-neck")) == pytest.approx(back, abs=0.01)
    assert length(piece.edge("collar-centre")) == pytest.approx(stand + 50.0, abs=1e-6)
    centre = draft.edge("front", "centre")
    breaks = piece.edge("front-edge").end
    assert breaks.imag - centre.end.imag == pytest.approx(opens, abs=1e-6)
    assert abs(breaks.real - centre.end.real) == pytest.approx(extension, abs=1e-6)
    for name in ("shoulder", "armhole", "side", "hem"):
        assert piece.edge(name) == draft.edge("front", name)
    assert piece.is_simple
    assert [f for f in check(after) if f not in check(draft) and f.code != "narrow"] == []


@given(drafts(), st.floats(15, 40), st.floats(0, 30), st.floats(40, 120))
@settings(max_examples=30)
def test_it_stands_beside_the_roll_line_and_is_swung_away_by_the_spring(
    draft: Draft, stand: float, spring: float, lapel: float
) -> None:
    after = shawled(draft, stand=stand, spring=spring, lapel=lapel)
    piece = after.piece("front")
    (roll,) = [mark for mark in piece.marks if mark.name == "roll-line"]
    neck, front = piece.edge("collar-neck"), piece.edge("front-edge")
    point, breaks = neck.end, front.end
    shoulder = draft.edge("front", "shoulder")
    along = (shoulder.parts[0].start_tangent) / abs(shoulder.parts[0].start_tangent)
    beyond = point - along * stand
    assert abs(roll.runs[0][1]) == pytest.approx(abs(beyond - breaks), abs=1e-3)
    way = (beyond - breaks) / abs(beyond - breaks)
    swung = (neck.start - point) / way
    assert abs(swung.imag) == pytest.approx(spring, abs=1e-3)
    outer = sampled(piece.edge("collar-edge").parts[0])
    middle = (breaks + beyond) / 2
    sides = [middle + way * 1j * lapel, middle - way * 1j * lapel]
    assert min(np.abs(outer - widest).min() for widest in sides) < 0.01


@given(drafts(), st.floats(0, 30))
@settings(max_examples=20)
def test_the_more_it_springs_the_longer_is_its_outer_edge(draft: Draft, spring: float) -> None:
    plain = shawled(draft, spring=0.0).edge("front", "collar-edge")
    sprung = shawled(draft, spring=spring).edge("front", "collar-edge")
    assert length(sprung) >= length(plain) - 1e-6


@given(drafts())
@settings(max_examples=20)
def test_at_the_centre_back_both_edges_are_square_and_the_outer_edge_never_bends_sharply(
    draft: Draft,
) -> None:
    piece = shawled(draft).piece("front")
    outer = sampled(piece.edge("collar-edge").parts[0])
    centre = piece.edge("collar-centre")
    neck = piece.edge("collar-neck")
    across = centre.end - centre.start
    for way in (outer[-1] - outer[-2], neck.end - neck.start):
        assert abs((way / across).real) / abs(way / across) < 0.02
    steps = np.diff(outer)
    headings = np.unwrap(np.angle(steps[np.abs(steps) > 1e-9]))
    assert np.degrees(np.abs(np.diff(headings))).max() < 3


def test_it_is_sewn_to_the_back_and_to_its_other_half_and_the_front_is_a_pair() -> None:
    after = shawled(block())
    neck, centre = after.seam("front-collar-seam"), after.seam("front-collar-centre-seam")
    assert neck.pieces == {"front", "back"}
    assert centre.side == centre.mate == (Run("front", "collar-centre"),)
    assert after.piece("front").fold is None
    assert {mark.name for mark in after.piece("front").marks} == {"centre-line", "roll-line"}


def test_where_left_and_right_differ_the_halves_of_the_collar_meet() -> None:
    lower = kind_named("scoop-armhole")(piece="front", by=6.0, side="left")
    after = lower.apply(shawled(block()))
    seam = after.seam("front-collar-centre-seam")
    assert [run.piece for run in seam.runs] == ["left-front", "right-front"]


@pytest.mark.parametrize(
    ("values", "reason"),
    [
        ({"opens": 900.0}, "opens-below-hem"),
        ({"piece": "back", "to": "front.neck"}, "fold-is-bent"),
        ({"spring": 60.0}, "springs-too-far"),
        ({"extension": 150.0, "opens": 30.0, "lapel": 5.0, "piece": "sleeve"}, None),
    ],
)
def test_what_cannot_be_drafted_is_refused(values: dict[str, object], reason: str | None) -> None:
    with pytest.raises((CannotChange, NoSuchName)) as refused:
        shawled(block(), **values)
    assert reason is None or reason in reasons(refused.value.says)


def test_where_something_is_sewn_to_the_neck_it_is_refused() -> None:
    band = kind_named("draft-band")(to="back.neck front.neck", name="stand", height=30.0)
    with pytest.raises(CannotChange) as refused:
        shawled(band.apply(block()))
    assert "sewn-by" in reasons(refused.value.says)
    with pytest.raises((CannotChange, NoSuchName)):
        shawled(shawled(block()))


def test_it_is_told_in_words() -> None:
    told = kind_named("draft-shawl")(opens=150.0).in_words(Unit.CENTIMETRE)
    assert told == "grow a shawl collar on to the front, open 15 cm below the neck"
