import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.builders import block
from tests.lineage.making import change
from tests.refusals import refusing
from tests.strategies import drafts
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.fingerprint import fingerprint
from trueup.geometry.units import Unit


def seam_allowance(draft: Draft, **values: str) -> Draft:
    return read_change(kind_named("seam-allowance"), values, Unit.MILLIMETRE).apply(draft)


def hem_allowance(draft: Draft, piece: str, by: float) -> Draft:
    return kind_named("hem-allowance")(piece=piece, by=by).apply(draft)


@given(drafts(), st.floats(0, 200), st.floats(0, 500))
@settings(max_examples=25)
def test_allowances_change_no_seam_line(draft: Draft, seam: float, hem: float) -> None:
    after = hem_allowance(seam_allowance(draft, piece="front", by=f"{seam}"), "front", hem)
    for piece in draft.pieces:
        for edge in piece.edges:
            assert after.edge(piece.name, edge.name) is edge
    before, now = measures(draft), measures(after)
    assert {name: now[name] for name in before} == before
    assert all(name.endswith(".allowance") for name in now.keys() - before.keys())


def test_a_piece_gets_it_on_all_seams_but_fold_and_hem() -> None:
    front = seam_allowance(block(), piece="front", by="15mm").piece("front")
    assert {name: front.allowance(name) for name in front.edge_names} == {
        "neck": 15.0,
        "shoulder": 15.0,
        "armhole": 15.0,
        "side": 15.0,
        "hem": 0.0,
        "centre": 0.0,
    }
    back = seam_allowance(block(), piece="back", by="15mm").piece("back")
    assert back.allowance("centre") == 15.0


def test_one_edge_keeps_the_others() -> None:
    draft = seam_allowance(block(), piece="front", by="15mm")
    draft = seam_allowance(draft, edge="front.side", by="25mm")
    draft = hem_allowance(draft, "front", 40.0)
    front = draft.piece("front")
    assert (front.allowance("side"), front.allowance("armhole"), front.allowance("hem")) == (
        25.0,
        15.0,
        40.0,
    )
    assert measures(draft)["front.side.allowance"] == 25.0


def test_nought_takes_the_allowance_off() -> None:
    draft = seam_allowance(block(), edge="front.neck", by="10mm")
    assert fingerprint(draft) != fingerprint(block())
    assert fingerprint(seam_allowance(draft, edge="front.neck", by="0mm")) == fingerprint(block())


def test_it_is_meant_to_change_the_allowances() -> None:
    change = kind_named("seam-allowance")(piece="front", by=12.0)
    assert set(change.meant(block())) == {
        f"front.{edge}.allowance" for edge in ("neck", "shoulder", "armhole", "side")
    }
    assert kind_named("hem-allowance")(piece="back", by=40.0).meant(block()) == (
        "back.hem.allowance",
    )


def test_a_fold_takes_none() -> None:
    with refusing(CannotChange, match="fold"):
        seam_allowance(block(), edge="front.centre", by="10mm")


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({}, "edge cannot be left out: give edge or piece"),
        ({"edge": "front.side", "piece": "front"}, "beside piece: give one of the two"),
    ],
)
def test_either_edge_or_piece_is_given(values: dict[str, str], says: str) -> None:
    with refusing(BadParameter, match=says):
        seam_allowance(block(), by="10mm", **values)


def test_what_is_not_there_is_named() -> None:
    for values in ({"edge": "front.cuff"}, {"piece": "collar"}):
        with pytest.raises(NoSuchName):
            seam_allowance(block(), by="10mm", **values)
    with pytest.raises(NoSuchName):
        hem_allowance(block(), "collar", 10.0)


@pytest.mark.parametrize("by", ["-1mm", "201mm"])
def test_an_amount_out_of_range_is_refused(by: str) -> None:
    with pytest.raises(BadParameter):
        seam_allowance(block(), piece="front", by=by)


def test_an_opened_front_keeps_its_extension_and_facing_when_all_its_seams_get_an_allowance() -> (
    None
):
    opened = change("open-front", piece="front", button="18mm", facing="60mm").apply(block())
    after = change("seam-allowance", piece="front", by="12mm").apply(opened)
    front = after.piece("front")
    assert front.allowance("centre") == 78
    assert {front.allowance(name) for name in ("neck", "shoulder", "armhole", "side")} == {12}
    told = change("seam-allowance", edge="front.centre", by="12mm").apply(opened)
    assert told.piece("front").allowance("centre") == 12
    with refusing(CannotChange, match="its extension of 12 mm is too narrow"):
        change("place-buttons", edge="front.centre", button="18mm", count=4).apply(told)
    first = kind_named("seam-allowance", 1)(piece="front", by=12.0).apply(opened)
    assert first.piece("front").allowance("centre") == 12
