import pytest

from tests.builders import block
from trueup.geometry.changes import kind_named
from trueup.geometry.cloth.sewing_order import SewingStep, Work, sewing_order
from trueup.geometry.drafting import draft_block
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position


def steps(*moved: str, pieces: tuple[str, ...] = ("front", "back", "sleeve")) -> list[SewingStep]:
    return list(sewing_order(block().only(pieces), moved))


def index(found: list[SewingStep], work: Work, place: str = "") -> int:
    return next(
        k for k, s in enumerate(found) if s.work is work and (not place or place in s.places)
    )


def works(found: list[SewingStep], place: str) -> list[Work]:
    return [step.work for step in found if place in step.places]


def test_nothing_moved_nothing_to_do() -> None:
    assert steps() == []


def test_a_hollowed_armhole_takes_the_sleeve_out_and_sets_it_again() -> None:
    found = steps("front.armhole")
    assert works(found, "armhole-seam") == [Work.OPEN, Work.SET]
    assert works(found, "front.armhole") == [Work.RECUT]
    assert "shoulder-seam" not in {place for step in found for place in step.places}
    assert (
        index(found, Work.OPEN, "armhole-seam")
        < index(found, Work.RECUT)
        < index(found, Work.SET, "armhole-seam")
    )


def test_darts_come_before_shoulder_side_sleeve_and_hem() -> None:
    found = steps("front.bust", "front.shoulder", "front.side", "front.armhole", "front.hem")
    order = [
        index(found, Work.RECUT),
        index(found, Work.DART, "front.bust"),
        index(found, Work.SEW, "shoulder-seam"),
        index(found, Work.SEW, "side-seam"),
        index(found, Work.SET, "armhole-seam"),
        next(k for k, step in enumerate(found) if step.says.startswith("Level the hem")),
    ]
    assert order == sorted(order)


def test_what_was_sewn_last_is_opened_first() -> None:
    found = steps("front.shoulder", "front.side", "front.armhole", "front.hem")
    assert (
        index(found, Work.OPEN, "front.hem")
        < index(found, Work.OPEN, "armhole-seam")
        < index(found, Work.OPEN, "side-seam")
        < index(found, Work.OPEN, "shoulder-seam")
        < index(found, Work.PRESS)
    )


def test_a_shoulder_seam_opens_armhole_and_neck_in_part() -> None:
    found = steps("front.shoulder", "back.shoulder")
    parts = [step.says for step in found if step.work is Work.OPEN_PART]
    assert any("armhole" in says and "shoulder" in says for says in parts)
    assert any("neck" in says for says in parts)
    assert found[index(found, Work.SET)].says == "Close the armhole seam."


def test_a_dart_opens_the_seam_it_runs_into() -> None:
    assert works(steps("back.shoulder"), "shoulder-seam") == [Work.OPEN, Work.SEW]


def test_without_a_sleeve_the_armhole_is_finished() -> None:
    found = steps("front.armhole", pieces=("front", "back"))
    assert Work.SET not in {step.work for step in found}
    assert works(found, "front.armhole") == [Work.RECUT, Work.FINISH]


@pytest.mark.parametrize("edge", block().edge_names)
def test_whatever_is_opened_is_sewn_again(edge: str) -> None:
    found = steps(edge)
    for seam in ("shoulder-seam", "side-seam", "sleeve-seam", "armhole-seam"):
        done = works(found, seam)
        assert (Work.OPEN in done) == (Work.SEW in done or done[-1:] == [Work.SET]) or (
            Work.OPEN_PART in done
        )
    assert found[-1].says == "Press the whole."
    assert all(step.says.endswith(".") for step in found)


def test_a_released_dart_is_unpicked_and_not_sewn() -> None:
    found = sewing_order(block(), ("front.hem",), ("front.old-dart",))
    assert works(list(found), "front.old-dart") == [Work.OPEN]


def test_a_seam_within_a_piece_that_was_cut_comes_before_shoulder_and_side() -> None:
    princess = kind_named("cut-apart")(
        piece="front", begins="armhole", ends="hem", through="bust waist", line="princess"
    )
    found = list(
        sewing_order(
            princess.apply(block()),
            ["front-centre.princess", "front-centre.shoulder", "front-side.side"],
        )
    )
    order = [
        index(found, Work.OPEN, "side-seam"),
        index(found, Work.OPEN, "shoulder-seam"),
        index(found, Work.OPEN, "front-princess"),
        index(found, Work.SEW, "front-princess"),
        index(found, Work.SEW, "shoulder-seam"),
        index(found, Work.SEW, "side-seam"),
    ]
    assert order == sorted(order)
    assert "Sew the front princess seam." in [step.says for step in found]


def test_a_collar_is_on_its_stand_before_that_is_on_the_neck() -> None:
    stand = kind_named("draft-band")(to="back.neck front.neck", name="stand", height=30.0)
    collar = kind_named("draft-collar")(to="stand.outer-edge", height=45.0, point=60.0)
    draft = collar.apply(stand.apply(block()))
    moved = ["front.neck", "front.shoulder", "stand.sewn-edge", "stand.outer-edge"]
    found = list(sewing_order(draft, [*moved, "collar.sewn-edge"]))
    order = [
        index(found, Work.OPEN, "stand-seam"),
        index(found, Work.OPEN, "collar-seam"),
        index(found, Work.SEW, "shoulder-seam"),
        index(found, Work.SEW, "collar-seam"),
        index(found, Work.SEW, "stand-seam"),
    ]
    assert order == sorted(order)


def test_the_side_of_a_skirt_is_opened_and_sewn_with_its_hem() -> None:
    body = {"waist": 678.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
    skirt = draft_block("straight-skirt", body)
    side = next(name for name in skirt.edge_names if name.endswith(".side"))
    found = [step.says for step in sewing_order(skirt, [side])]
    assert found[0].startswith("Let down the hem a hand's width")
    assert found[-2].startswith("Level the hem")
    assert any(says.startswith("Sew the") and "side seam" in says for says in found)


def test_pleats_gathers_and_vents_have_their_place() -> None:
    body = {"waist": 720.0, "hip": 960.0, "hip-depth": 206.0, "skirt-length": 600.0}
    draft = draft_block("straight-skirt", body)
    for made in (
        kind_named("draft-band")(to="skirt-back.waist skirt-front.waist", name="band", height=40.0),
        kind_named("release-dart")(dart="skirt-front.waist", eased=True),
        kind_named("lay-pleats")(
            edge="skirt-back.waist", at=Position("waist-centre", distance=50.0), depth=15.0
        ),
        kind_named("add-vent")(
            edge="skirt-back.side", at=Position("hem-side", distance=150.0), width=30.0
        ),
    ):
        draft = made.apply(draft)
    moved = ["skirt-back.waist", "skirt-front.waist", "band.sewn-edge", "skirt-back.side"]
    found = list(sewing_order(draft, moved))
    says = [step.says for step in found]
    order = [
        index(found, Work.PLEATS, "skirt-back.pleat"),
        index(found, Work.SEW, "skirt-side-seam"),
        index(found, Work.GATHER, "skirt-front.waist"),
        index(found, Work.SEW, "band-seam"),
        index(found, Work.VENT, "skirt-back.vent"),
        next(k for k, each in enumerate(says) if each.startswith("Level the hem")),
    ]
    assert order == sorted(order)
    assert "Turn in the extension of skirt-back.vent." in says
    # Where neither edge is sewn anew, nothing is said of them.
    centre = [step.work for step in sewing_order(draft, ["skirt-back.centre"])]
    assert not {Work.PLEATS, Work.GATHER, Work.VENT} & {*centre}


def dress() -> Draft:
    """Return a bodice sewn to a skirt at the waist, its front with a pocket."""
    body = {"waist": 640.0, "hip": 900.0, "hip-depth": 200.0, "skirt-length": 600.0}
    skirt = draft_block("straight-skirt", body)
    both = Draft(
        (*block().only(("front", "back")).pieces, *skirt.pieces),
        (*block().only(("front", "back")).seams, *skirt.seams),
    )
    sewn = kind_named("sew-together")(
        line="front.hem back.hem", to="skirt-front.waist skirt-back.waist", name="waist-seam",
        low=-500.0, high=500.0,
    ).apply(both)  # fmt: skip
    return kind_named("place-pocket")(
        edge="skirt-front.centre", at=Position("hem-centre", share=0.6), inside=30.0, width=60.0,
        height=70.0, name="pocket",
    ).apply(sewn)  # fmt: skip


def test_a_waist_that_is_sewn_to_a_skirt_is_a_seam_and_no_hem() -> None:
    found = list(sewing_order(dress(), ("front.hem", "back.hem")))
    assert works(found, "waist-seam") == [Work.OPEN, Work.SEW]
    assert not [step for step in found if "hem" in step.says.replace("front.hem, back.hem", "")]


def test_a_side_seam_of_a_bodice_runs_into_its_waist_seam() -> None:
    found = list(sewing_order(dress(), ("front.side", "back.side")))
    assert works(found, "waist-seam") == [Work.OPEN_PART, Work.SEW]
    assert index(found, Work.SEW, "side-seam") < index(found, Work.SEW, "waist-seam")
    assert not [step for step in found if "the hem" in step.says]
    below = list(sewing_order(dress(), ("skirt-front.side", "skirt-back.side")))
    assert [step.says for step in below if "the hem" in step.says]


def test_a_pocket_whose_place_moved_comes_off_first_and_is_sewn_on_before_the_seams() -> None:
    found = list(sewing_order(dress(), ("skirt-front.centre", "skirt-front.side")))
    assert works(found, "pocket") == [Work.OPEN, Work.POCKET]
    assert index(found, Work.OPEN, "pocket") == 0
    assert index(found, Work.POCKET, "pocket") < index(found, Work.SEW, "skirt-side-seam")
    assert works(list(sewing_order(dress(), ("front.side",))), "pocket") == []
