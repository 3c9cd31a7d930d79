"""The direct-measure system over many bodies, and what is made on its block."""

import contextlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.fair import closed_points, depth, smallest_radius, turns
from tests.geometry.drafting.bodies import DIRECT, direct_bodies
from tests.geometry.drafting.truth import assert_true, polyline_length, seam_differences
from tests.lineage.making import Bench, change, child, pattern, state, step
from tests.refusals import refusing
from trueup.geometry.drafting import draft_block, system_named
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measure
from trueup.geometry.pieces.draft import Draft
from trueup.lineage.files.records import BlockDraft, NodeRecord
from trueup.lineage.replay.verdicts import Verdict

SYSTEM = "direct-measure"
WIDTHS = ("back-width", "chest-width")


def direct(**body: float) -> Draft:
    return draft_block(SYSTEM, {**DIRECT, **body})


def test_its_pieces_edges_corners_darts_levels_and_seams_are_those_of_the_other_bodice() -> None:
    mine, other = direct(), block()
    assert mine.piece_names == other.piece_names
    assert (mine.joins, [s.name for s in mine.seams]) == (
        other.joins,
        [s.name for s in other.seams],
    )
    for piece in mine.pieces:
        like = other.piece(piece.name)
        assert piece.edge_names == like.edge_names
        assert {*piece.dart_names} == {*like.dart_names}
        assert [e.starts_at for e in piece.edges] == [e.starts_at for e in like.edges]
        assert [level.name for level in piece.levels] == [level.name for level in like.levels]
        assert [notch.name for notch in piece.notches] == [notch.name for notch in like.notches]


@given(direct_bodies())
@settings(max_examples=25)
def test_every_body_is_drafted_true_or_refused(body: dict[str, float]) -> None:
    with contextlib.suppress(BadParameter):
        draft = draft_block(SYSTEM, body)
        assert_true(draft)
        assert check(draft) == ()


def test_few_bodies_are_refused_and_only_for_their_shoulders() -> None:
    refused = []
    for bust in range(780, 1100, 20):
        for more in range(-6, 8, 2):
            usual = {"bust": bust, "waist": bust - 160, "shoulder": 105 + bust / 45 + more}
            widths = {name: DIRECT[name] + 0.24 * (bust - 880) for name in WIDTHS}
            try:
                direct(**usual, **widths)
            except BadParameter as why:
                refused.append(why.name)
    assert {*refused} <= {"shoulder"}
    assert len(refused) < 10


@given(direct_bodies())
@settings(max_examples=15)
def test_it_measures_what_the_body_does(body: dict[str, float]) -> None:
    with contextlib.suppress(BadParameter):
        draft = draft_block(SYSTEM, body)
        neck = sum(polyline_length(draft, piece, "neck") for piece in ("front", "back"))
        assert 2 * neck == pytest.approx(body["neck"], abs=0.1)
        for piece in ("front", "back"):
            shoulder = polyline_length(draft, piece, "shoulder")
            assert shoulder == pytest.approx(body["shoulder"], abs=0.01)
        waist = sum(polyline_length(draft, piece, "hem") for piece in ("front", "back"))
        assert waist == pytest.approx(body["waist"] / 2 + 30, abs=1.5)
        assert seam_differences(draft)["armhole-seam"] == pytest.approx(35, abs=0.02)


@given(direct_bodies())
@settings(max_examples=15)
def test_armholes_and_necks_are_one_hollow(body: dict[str, float]) -> None:
    with contextlib.suppress(BadParameter):
        draft = draft_block(SYSTEM, body)
        for piece in ("front", "back"):
            for edge in ("armhole", "neck"):
                line = closed_points(draft.edge(piece, edge))
                assert len(turns(line, 0.2)) == 1, (piece, edge)
                assert depth(line) > 5
                assert smallest_radius(line) > 15


def test_two_fifths_of_the_ease_lie_in_front() -> None:
    draft = direct()
    sleeve = draft.piece("sleeve")
    crown = next(notch for notch in sleeve.notches if notch.name == "crown")
    front = crown.at.along(sleeve.edge("cap")) - polyline_length(draft, "front", "armhole")
    assert front == pytest.approx(14, abs=0.02)


@pytest.mark.parametrize(
    ("body", "told"),
    [
        ({"waist": 1000.0}, r"^waist cannot be 1000 mm: with a bust of 880 mm it lies between"),
        ({"back-length": 330.0, "armscye-depth": 260.0},
         r"^back-length cannot be 330 mm: with the armscye-depth at 260 mm it lies between 365 mm"),
        ({"chest-width": 450.0}, r"^chest-width cannot be 450 mm: with the bust at 880 mm it lies"),
        ({"shoulder": 95.0}, r"^shoulder cannot be 95 mm: with the back-width at 344 mm it lies"),
        ({"shoulder": 165.0}, r"^shoulder cannot be 165 mm: with the back-width at 344 mm it lies"),
    ],
)  # fmt: skip
def test_measurements_that_contradict_one_another_are_refused(
    body: dict[str, float], told: str
) -> None:
    with refusing(BadParameter, match=told):
        direct(**body)


@given(
    st.fixed_dictionaries(
        {each.name: st.floats(each.low, each.high) for each in system_named(SYSTEM).measurements}
    )
)
@settings(max_examples=40)
def test_within_the_sane_ranges_there_is_a_simple_draft_or_a_refusal(
    wild: dict[str, float],
) -> None:
    with contextlib.suppress(BadParameter):
        assert all(piece.is_simple for piece in draft_block(SYSTEM, wild).pieces)


KINDS = (
    ("rotate-dart", {"dart": "front.bust", "edge": "front.side", "at": "30% from underarm"}),
    ("rotate-dart", {"dart": "front.bust", "edge": "front.armhole", "at": "40% from underarm"}),
    ("rotate-dart", {"dart": "back.shoulder", "edge": "back.neck", "at": "60% from neck-centre"}),
    ("scoop-armhole", {"piece": "front", "by": "6mm"}),
    ("lower-armhole", {"by": "12mm"}),
    ("shorten-shoulder", {"by": "8mm"}),
    ("slope-shoulder", {"by": "5mm"}),
    ("lower-neck", {"piece": "front", "by": "15mm"}),
    ("widen-neck", {"by": "6mm"}),
    ("add-ease", {"by": "40mm"}),
    ("deepen-dart", {"dart": "back.waist", "by": "6mm"}),
    ("refit-cap", {"to": "30mm"}),
    ("raise-cap", {"by": "6mm"}),
    ("lengthen", {"by": "200mm"}),
    ("draft-band", {"to": "back.neck front.neck", "name": "stand", "height": "30mm"}),
    ("cut-apart", {"piece": "front", "begins": "shoulder", "ends": "hem", "through": "bust waist",
                   "line": "princess"}),
)  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "values"), KINDS, ids=[f"{k}-{n}" for n, (k, _) in enumerate(KINDS)]
)
def test_every_kind_is_made_on_it(kind: str, values: dict[str, str]) -> None:
    after = change(kind, **values).apply(direct())
    seams = {"armhole-seam"}  # what moves the armhole leaves its sleeve behind, as on any bodice
    assert {f.code for f in check(after) if f.severity.value == "error"} <= {"seam"}
    for seam in after.seams:
        if seam.name not in seams:
            assert seam.allowed.holds(seam_differences(after)[seam.name]), seam.name


def test_a_correction_of_it_arrives_in_a_pattern() -> None:
    body = {name: f"{mm:g}mm" for name, mm in DIRECT.items()}
    made = NodeRecord("village", True, draft=BlockDraft(SYSTEM, body))
    told = {"dart": "front.bust", "edge": "front.side", "at": "35% from underarm"}
    turned = step("t1", "rotate-dart", **told)
    bench = Bench(state(made, child("blouse", turned)))
    before = measure(bench.evaluator.draft("blouse"), "front.armhole")
    found = bench.correct("village", change("scoop-armhole", piece="front", by="5mm"))
    assert pattern(found, "blouse").verdict is Verdict.CARRIED
    by_hand = change("scoop-armhole", piece="front", by="5mm").apply(direct())
    wanted = change("rotate-dart", **told).apply(by_hand)
    now = bench.evaluator.draft("blouse")
    assert measure(now, "front.armhole") > before
    assert now.edge("front", "armhole") == wanted.edge("front", "armhole")
