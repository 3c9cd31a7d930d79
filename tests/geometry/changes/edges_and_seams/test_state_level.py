from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.judging.on_cloth import polygon
from tests.judging.sampled import sampled
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.comparing.difference import difference
from trueup.geometry.errors import BadLength, BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.piece import Level, Piece
from trueup.geometry.units import Unit


def stated(draft: Draft, piece: str, name: str, at: str | None = None, **values: object) -> Draft:
    words = {"piece": piece, "name": name, **({"at": at} if at else {}), **values}
    return read_change(kind_named("state-level"), words, Unit.MILLIMETRE).apply(draft)


def bare(draft: Draft) -> Draft:
    return draft.with_pieces(*(replace(piece, levels=()) for piece in draft.pieces))


@given(drafts(), st.floats(0.02, 0.98))
@settings(max_examples=15, deadline=None)
def test_no_line_moves_and_the_width_there_is_measured(draft: Draft, share: float) -> None:
    plain = bare(draft)
    back = plain.piece("back")
    # Nearer to the hem than its highest point a tape leaves the piece by the hem.
    down = round(share * (highest(back.edge("hem")) - back.corner("underarm").imag), 2)
    after = stated(plain, "back", "ribs", f"{down}mm below underarm")
    piece = after.piece("back")
    (level,) = piece.levels
    assert level.y == pytest.approx(back.corner("underarm").imag + down)
    assert [p.edges for p in after.pieces] == [p.edges for p in plain.pieces]
    assert check(after) == check(plain)
    gained = {*measures(after)} - {*measures(plain)}
    assert gained == {"back.ribs-width"}
    across = shapely.LineString([(-2000, level.y), (2000, level.y)])
    cloth = polygon(piece).difference(darts(piece)).intersection(across).length
    assert measures(after)["back.ribs-width"] == pytest.approx(cloth, abs=0.5)


@given(drafts(), st.floats(0.5, 300))
@settings(max_examples=15, deadline=None)
def test_a_level_that_lies_off_the_piece_is_refused(draft: Draft, beyond: float) -> None:
    plain = bare(draft)
    back = plain.piece("back")
    lowest = max(points.imag.max() for points in sampled(back.edge("hem")))
    down = round(lowest - back.corner("underarm").imag + beyond, 2)
    with refusing(CannotChange, match="beyond the piece"):
        stated(plain, "back", "ribs", f"{down}mm below underarm")


def darts(piece: Piece) -> shapely.Geometry:
    mouths = [
        shapely.Polygon([(p.real, p.imag) for p in (before[-1], dart.apex, after[0])])
        for edge in piece.edges
        for dart, (before, after) in zip(edge.darts, pairwise(sampled(edge)), strict=True)
    ]
    return shapely.union_all(mouths)


def highest(edge: Edge) -> float:
    return min(float(points.imag.min()) for points in sampled(edge))


def test_what_was_left_out_of_a_block_is_stated_as_it_was_drafted() -> None:
    plain = bare(block())
    said = (
        ("front", "bust", "at dart bust"), ("front", "waist", "along hem"),
        ("back", "bust", "at underarm"), ("sleeve", "biceps", "at front-underarm"),
    )  # fmt: skip
    for piece, name, at in said:
        after = stated(plain, piece, name, at).piece(piece).level(name)
        assert after.y == pytest.approx(block().piece(piece).level(name).y, abs=0.01)
        assert after.along == block().piece(piece).level(name).along


def test_stated_wrongly_it_is_stated_anew_or_taken_off() -> None:
    once = stated(block(), "back", "hip", "30mm below underarm")
    twice = stated(once, "back", "hip", "20mm above waist")
    waist = block().piece("back").level("waist").y
    assert [e for e in twice.piece("back").levels if e.name == "hip"] == [Level("hip", waist - 20)]
    off = stated(twice, "back", "hip", none=True)
    assert fingerprint(off) == fingerprint(block())
    assert difference(off, twice).others == ("the levels of back",)


def test_what_is_made_at_a_level_finds_it() -> None:
    long = kind_named("lengthen")(by=200.0).apply(block())
    low = stated(stated(long, "front", "knee", "120mm below waist"), "back", "knee",
                 "120mm below waist")  # fmt: skip
    after = read_change(
        kind_named("lengthen-at"), {"by": "20mm", "level": "knee"}, Unit.MILLIMETRE
    ).apply(low)
    for piece in ("front", "back"):
        was, now = (d.edge(piece, "centre").length for d in (low, after))
        assert now - was == pytest.approx(20, abs=0.1)


def test_on_one_side_of_the_body_it_is_stated_by_itself() -> None:
    one = stated(block(), "front", "mark", "30mm above waist", side="left")
    assert [p.name for p in one.pieces if p.has_level("mark")] == ["left-front"]


def test_what_says_nothing_or_lies_elsewhere_is_refused() -> None:
    for at in ("somewhere", "down there", "line 4"):
        with refusing(BadParameter, match="write 'along hem'"):
            stated(block(), "front", "hip", at)
    with refusing(BadParameter, match="left out"):
        stated(block(), "front", "hip")
    with refusing(BadParameter, match="beside none"):
        stated(block(), "front", "hip", "along hem", none=True)
    with refusing(CannotChange, match="beyond the piece"):
        stated(block(), "front", "hip", "900mm below waist")
    with refusing(BadLength, match="no length|not a length"):
        stated(block(), "front", "hip", "two hands below waist")
    for name, at in (("hip", "at elbow"), ("hip", "along top"), ("hip", "at dart nape")):
        with pytest.raises(NoSuchName):
            stated(block(), "front", name, at)
    with pytest.raises(NoSuchName, match="level"):
        stated(block(), "front", "hip", none=True)


def test_it_says_what_it_states() -> None:
    change = kind_named("state-level")(piece="back", name="hip", at="200mm below waist")
    assert change.in_words(Unit.MILLIMETRE) == "state the hip of the back, 200 mm below the waist"
    off = kind_named("state-level")(piece="back", name="hip", none=True)
    assert off.in_words(Unit.MILLIMETRE) == "take the level hip off the back"
    other = kind_named("state-level")(piece="back", name="bust", at="at underarm")
    assert not change.same_place(other)
    assert change.same_place(off)
