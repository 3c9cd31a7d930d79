"""A piece that is renamed is found by both its names, and nothing of it is another."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import sampled
from tests.geometry.changing import made
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes.base import Change
from trueup.geometry.comparing.comparison import compare
from trueup.geometry.comparing.new_shapes import reshaped_edges
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.position import Position
from trueup.geometry.sides.telling import told_of


def renamed(draft: Draft, piece: str = "front", to: str = "over-front", **more: object) -> Draft:
    return made("rename-piece", piece=piece, to=to, **more).apply(draft)


PRINCESS = made(
    "cut-apart", piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
)
CHANGES = [
    made("scoop-armhole", piece="front", by=6.0),
    made("shorten-shoulder", by=7.0),
    made("lower-neck", piece="front", by=9.0),
    made("rotate-dart", dart="front.bust", edge="front.side", at=Position("underarm", share=0.3)),
    made("add-ease", by=20.0),
    made("draft-facing", edge="front.neck", width=50.0),
    made("draft-band", to="back.neck front.neck", name="stand", height=30.0),
    made("sew-together", line="front.hem", to="back.hem", name="odd-seam", high=500.0, low=-500.0),
    made("seam-allowance", piece="front", by=12.0),
    made("drop-piece", piece="front"),
    made("lower-neck", piece="front", by=9.0, side="left"),
    PRINCESS,
]


def points(draft: Draft) -> dict[str, np.ndarray]:
    """Return what lies on the table, each piece by its own name, as points along its lines."""
    own = {called: name for name, called in draft.called_names.items()}
    return {
        f"{own.get(piece.name, piece.name)}.{edge.name}.{k}": sampled(part)
        for piece in draft.pieces
        for edge in piece.edges
        for k, part in enumerate(edge.parts)
    }


@given(drafts(), st.sampled_from(CHANGES))
@settings(max_examples=40)
def test_a_change_of_either_name_does_what_it_does_to_the_piece(
    draft: Draft, change: Change
) -> None:
    before = change.apply(draft)
    after = change.apply(renamed(draft))
    wanted, found = points(before), points(after)
    assert found.keys() == wanted.keys()
    for name, line in wanted.items():
        assert np.array_equal(found[name], line), name
    if change.kind not in ("drop-piece", "cut-apart"):
        assert "over-front" in {name.removeprefix("left-") for name in after.piece_names}
        assert "front" not in after.piece_names
    told = {
        name: str(value).replace("front", "over-front")
        for name in ("piece", "edge", "dart", "to", "line")
        if "front" in str(value := getattr(change, name, ""))
    }
    assert fingerprint(replace(change, **told).apply(renamed(draft))) == fingerprint(after)


@given(drafts())
@settings(max_examples=10)
def test_it_is_measured_by_both_names_and_is_as_it_was(draft: Draft) -> None:
    after = renamed(draft)
    read, was = measures(after), measures(draft)
    for name, value in was.items():
        assert read[name] == value, name
        if name.startswith("front."):
            assert read[f"over-{name}"] == value
    assert reshaped_edges(draft, after) == ()
    assert compare(draft, after).is_same
    assert after.edge("over-front", "side") is draft.edge("front", "side")
    assert fingerprint(after) != fingerprint(draft)
    assert renamed(after, "over-front", "front") == draft


def test_what_is_said_of_it_is_said_by_the_name_it_was_given() -> None:
    after = made("scoop-armhole", piece="front", by=20.0).apply(renamed(block()))
    found = check(after)
    assert found
    assert "front" not in {each.piece for each in found}
    assert {run.piece for seam in after.seams for run in seam.runs} == {*after.piece_names}
    with refusing(CannotChange, match=r"^scoop-armhole cannot be done on over-front\.armhole: "):
        made("scoop-armhole", piece="front", by=600.0).apply(after)
    with refusing(NoSuchName, match=r"over-front.hollow. is not an edge .*; try over-front"):
        made("smooth-edge", edge="over-front.hollow").apply(after)


def test_what_a_change_means_is_told_by_own_names() -> None:
    """So a replay reads it wherever the piece goes, whatever it is called there."""
    for piece in ("front", "over-front"):
        change = made("lower-neck", piece=piece, by=9.0)
        assert told_of(change.meant, renamed(block()), None) == told_of(
            made("lower-neck", piece="front", by=9.0).meant, block(), None
        )


def test_both_sides_that_differ_since_are_called_so_with_their_side() -> None:
    parted = made("shorten-shoulder", by=6.0, side="left").apply(renamed(block(), to="wrap"))
    assert {"left-wrap", "right-wrap"} <= {*parted.piece_names}
    first = made("shorten-shoulder", by=6.0, side="left").apply(block())
    assert fingerprint(renamed(first, to="wrap")) == fingerprint(parted)


def test_the_piece_of_one_side_has_a_name_by_itself() -> None:
    parted = made("shorten-shoulder", by=6.0, side="left").apply(block())
    after = renamed(parted, to="under-wrap", side="left")
    assert {"under-wrap", "right-front"} <= {*after.piece_names}
    again = made("lower-neck", piece="front", by=9.0, side="left").apply(after)
    assert again == made("lower-neck", piece="under-wrap", by=9.0).apply(after)
    assert again.piece("right-front") == after.piece("right-front")
    assert again.edge("under-wrap", "neck") != after.edge("under-wrap", "neck")
    names = told_of(made("lower-neck", piece="under-wrap", by=9.0).meant, after, None)
    assert names
    assert all(name.startswith("left-front.") for name in names)


def test_parts_and_wholes_keep_theirs() -> None:
    cut = PRINCESS.apply(renamed(block()))
    assert "over-front" not in cut.piece_names
    assert measures(cut)["over-front.hem"] == measures(cut)["front.hem"]
    panel = renamed(cut, "front-side", "side-panel")
    assert "side-panel" in panel.piece_names
    lowered = made("lower-armhole", by=8.0).apply(panel)
    assert lowered.edge("side-panel", "armhole") != panel.edge("side-panel", "armhole")
    assert lowered.cut_from("side-panel") == {"side-panel", "front"}


def test_a_name_that_is_taken_is_refused() -> None:
    after = renamed(block())
    for to in ("back", "front"):
        with refusing(CannotChange, match=f"the name {to} is taken; choose another name"):
            renamed(after, "sleeve", to)
    with refusing(CannotChange, match="it is called over-front already"):
        renamed(after)
    with refusing(CannotChange, match="the name over-front is taken; choose another name"):
        made("draft-facing", edge="back.neck", name="over-front", width=50.0).apply(after)
    with refusing(CannotChange, match="cut apart into front-.*; name one of these"):
        renamed(PRINCESS.apply(block()))
    with refusing(CannotChange, match="left and right have the same front; rename it on both"):
        renamed(block(), side="left")
    with pytest.raises(BadParameter):
        renamed(block(), to="Over Front")
    with pytest.raises(NoSuchName):
        renamed(block(), "collar")
