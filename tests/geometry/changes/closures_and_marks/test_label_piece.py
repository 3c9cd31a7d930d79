"""Labels: from which cloth a piece is cut, how often, and what is noted on it."""

import io
import json

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.lineage.making import block as block_node
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.cli.drawing.piece.naming import name_place
from trueup.cli.drawing.piece.pieces import piece_items
from trueup.cli.drawing.scene.scene import Words
from trueup.cli.exporting.dxf import draft_dxf
from trueup.cli.sheet.cut_list import cut_list
from trueup.cli.wording.cutting import cut_words
from trueup.geometry.comparing.difference import difference
from trueup.geometry.errors import BadParameter, CannotChange
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.pieces.marks.label import CLOTHS
from trueup.geometry.pieces.side import Side
from trueup.geometry.sides.parting import of_both, worn_on
from trueup.geometry.units import Unit
from trueup.lineage.drawings.tracing.form import draft_form
from trueup.lineage.drawings.tracing.form_reading import read_form
from trueup.lineage.evaluation.plain import read_draft, to_bytes
from trueup.lineage.replay.verdicts import Verdict


def labelled(draft: Draft, piece: str, *labels: dict[str, object]) -> Draft:
    for values in labels:
        draft = change("label-piece", piece=piece, **values).apply(draft)
    return draft


YOKE = ({"count": 2}, {"cloth": "interfacing", "count": 1, "note": "ease at the notches"})


@given(drafts(), st.lists(st.tuples(st.sampled_from(CLOTHS), st.integers(1, 9)), min_size=1))
@settings(max_examples=30)
def test_a_piece_is_cut_from_each_cloth_as_was_said_last_and_stays_as_it_is(
    draft: Draft, said: list[tuple[str, int]]
) -> None:
    after = labelled(draft, "back", *({"cloth": cloth, "count": count} for cloth, count in said))
    label = after.piece("back").label
    assert label is not None
    assert dict(label.cut_from) == dict(said)
    assert after.piece("back").edges is draft.piece("back").edges
    assert measures(after) == measures(draft)
    assert fingerprint(after) != fingerprint(draft)
    assert difference(draft, after).others == ("the label of back",)
    assert read_draft(to_bytes(after)) == after
    assert read_form(json.dumps(draft_form(after)), "x.svg").pieces == after.pieces


def test_it_is_told_how_a_piece_is_cut_and_as_before_where_nothing_was_said() -> None:
    draft = block()
    assert [cut_words(piece) for piece in draft.pieces] == [
        "cut 1 on the fold" if piece.fold else "cut 2, a pair" for piece in draft.pieces
    ]
    assert cut_words(labelled(draft, "sleeve", *YOKE).piece("sleeve")) == (
        "cut 2 shell, 1 interfacing"
    )
    assert cut_words(labelled(draft, "front", *YOKE).piece("front")) == (
        "cut 2 shell, 1 interfacing, on the fold"
    )
    left = change("label-piece", piece="sleeve", count=3, side="left").apply(draft)
    assert cut_words(left.piece("left-sleeve")).startswith("cut 3 shell")
    assert cut_words(left.piece("right-sleeve")).startswith("cut 1")
    assert of_both(*(worn_on(left, side) for side in Side)) == left


def test_the_cut_list_counts_all_cloths_and_lays_out_the_shell() -> None:
    draft = block().only(["sleeve"])
    plain = cut_list(draft, 1400.0)
    lining = labelled(draft, "sleeve", {"count": 4}, {"cloth": "lining", "count": 2})
    found = cut_list(lining, 1400.0)
    assert found.whole_area == pytest.approx(3 * plain.whole_area)
    folded = next(each for each in found.estimates if each.layers == 2)
    once = next(each for each in plain.estimates if each.layers == 2)
    assert folded.length == pytest.approx(once.length)  # two of two layers, side by side
    none = labelled(draft, "sleeve", {"cloth": "lining", "count": 2})
    assert all(each.length == 0 for each in cut_list(none, 1400.0).estimates)


def test_it_stands_on_the_picture_and_in_the_dxf() -> None:
    draft = labelled(block(), "front", *YOKE)
    front = draft.piece("front")
    words = [item for item in piece_items(front, 12.0) if isinstance(item, Words)]
    assert [each.text for each in words] == [
        "front",
        "cut 2 shell",
        "1 interfacing",
        "on the fold",
        "ease at the",
        "notches",
    ]
    assert words[0].at == name_place(front, 12.0)
    assert all(each.at.real == words[0].at.real for each in words)
    document = ezdxf.read(io.StringIO(draft_dxf(draft, "b").decode("cp1252"), newline=None))
    texts = [e.dxf.text for e in document.blocks["front"] if e.dxftype() == "TEXT"]
    assert f"Annotation: {cut_words(front)}" in texts
    assert "Annotation: ease at the notches" in texts


def test_parts_of_a_cut_piece_are_labelled_with_it_or_by_themselves() -> None:
    princess = change("cut-apart", piece="front", begins="armhole", ends="hem",
                      through="bust waist", line="princess")  # fmt: skip
    first = princess.apply(labelled(block(), "front", {"count": 2}))
    assert {first.piece(n).label for n in ("front-side", "front-centre")} == {
        first.piece("front").label
    }
    own = labelled(first, "front-side", {"note": "stretch"})
    later = change("lower-armhole", by="6mm").apply(own)
    assert later.piece("front-side").label == own.piece("front-side").label
    both = labelled(later, "front", {"cloth": "lining", "count": 2})
    assert all(len(both.piece(n).label.cut_from) == 2 for n in ("front-side", "front-centre"))


def test_what_says_nothing_or_cuts_nothing_is_refused() -> None:
    with refusing(BadParameter, match="give count or note"):
        change("label-piece", piece="front")
    with refusing(BadParameter, match="whole number"):
        change("label-piece", piece="front", count=1.5)
    with refusing(BadParameter, match="40 letters"):
        change("label-piece", piece="front", note="x" * 41)
    with refusing(CannotChange, match="no cloth at all; leave it out of the pattern"):
        labelled(block(), "front", {"count": 0})
    told = change("label-piece", piece="front", count=2, note="twice", side="left")
    assert told.in_words(Unit.MILLIMETRE) == (
        'label the front: cut 2 shell, note "twice" on the left'
    )


def test_a_corrected_block_keeps_the_label_of_the_pattern() -> None:
    bench = Bench(state(block_node(), child("shirt", step("l1", "label-piece", piece="front",
                                                           count=2))))  # fmt: skip
    found = bench.correct("village", change("lower-neck", piece="front", by="6mm"))
    assert pattern(found, "shirt").verdict is Verdict.CARRIED
    by_hand = labelled(bench.evaluator.draft("village"), "front", {"count": 2})
    assert bench.evaluator.draft("shirt") == by_hand
