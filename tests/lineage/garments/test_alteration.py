import datetime
from typing import Any

import msgspec
from shapely.geometry import Polygon

from tests.builders import block
from tests.refusals import refusing
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.cloth.cut_cloth import Possible, Reason
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.cloth.sewing_order import Work
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.errors import BadRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.garments.alteration import alteration
from trueup.lineage.garments.answers import Alteration

GARMENT = GarmentRecord("smock-1", "smock", "0" * 40, datetime.date(2025, 3, 1))


def changed(draft: Draft, kind: str, **values: Any) -> Draft:
    return read_change(kind_named(kind), values, Unit.MILLIMETRE).apply(draft)


def cut_draft() -> Draft:
    draft = block()
    for piece in draft.piece_names:
        draft = changed(draft, "seam-allowance", piece=piece, by="15mm")
        draft = changed(draft, "hem-allowance", piece=piece, by="40mm")
    return draft


def cloth(draft: Draft) -> dict[str, Polygon]:
    return {piece.name: cutting_line(piece) for piece in draft.pieces}


def altered(old: Draft, new: Draft, *stitched_down: str) -> Alteration:
    garment = msgspec.structs.replace(GARMENT, stitched_down=stitched_down)
    return alteration(garment, cloth(old), old, new)


def test_a_garment_as_its_pattern_wants_it_needs_nothing() -> None:
    found = altered(cut_draft(), cut_draft())
    assert found.stays
    assert found.possible is Possible.CAN
    assert (found.steps, found.uneven, found.not_cut, found.not_wanted) == ((), (), (), ())


def test_a_hollowed_armhole_is_cut_and_the_sleeve_set_again() -> None:
    old = cut_draft()
    found = altered(old, changed(old, "scoop-armhole", piece="front", by="4mm"))
    assert found.possible is Possible.CAN
    assert found.cap is not None
    assert found.cap.fits
    assert found.hollowing is not None
    # The front half of its cap gives out before the whole.
    assert 3 < found.hollowing["front"] < 4
    works = [step.work for step in found.steps]
    assert works.index(Work.OPEN) < works.index(Work.RECUT) < works.index(Work.SET)


def test_a_cap_that_no_longer_fits_is_told_from_one_that_can_be_cut_down() -> None:
    old = cut_draft()
    found = altered(old, changed(old, "scoop-armhole", piece="front", by="25mm"))
    assert found.cap is not None
    assert not found.cap.fits
    assert found.hollowing is not None
    assert found.hollowing["front"] < 25


def test_what_is_stitched_down_is_left_out_of_the_work() -> None:
    old = cut_draft()
    new = changed(old, "lower-neck", piece="front", by="10mm")
    found = altered(old, new, "front.neck")
    (front,) = [piece for piece in found.pieces if piece.piece == "front"]
    assert front.edge("neck").reason is Reason.STITCHED_DOWN
    assert found.steps == ()
    assert not found.stays
    assert {place for step in altered(old, new).steps for place in step.places} >= {"front.neck"}


def test_a_turned_dart_is_unpicked_and_sewn_anew() -> None:
    old = cut_draft()
    turned = changed(
        old, "rotate-dart", dart="front.bust", edge="front.side", at="30% from underarm"
    )
    darts = [step.places for step in altered(old, turned).steps if step.work is Work.DART]
    assert ("front.bust",) in darts


def test_a_released_dart_is_only_unpicked() -> None:
    old = cut_draft()
    found = altered(old, changed(old, "release-dart", dart="front.waist"))
    # No seam line moves, and yet there is something to do.
    assert all(piece.stays for piece in found.pieces)
    assert not found.stays
    says = [step.says for step in found.steps]
    assert any("front.waist" in each and each.startswith("Unpick") for each in says)
    assert ("front.waist",) not in [s.places for s in found.steps if s.work is Work.DART]


def test_pieces_without_cloth_and_cloth_without_a_piece_are_named() -> None:
    both, whole = cut_draft().only(("front", "back")), cut_draft()
    assert altered(both, whole).not_cut == ("sleeve",)
    assert altered(whole, both).not_wanted == ("sleeve",)
    assert altered(whole, both).cap is None


def test_a_drawing_without_a_piece_that_was_cut_is_refused() -> None:
    draft = cut_draft()
    without = {name: p for name, p in cloth(draft).items() if name != "back"}
    with refusing(BadRecord, match="no outline of back"):
        alteration(GARMENT, without, draft, draft)


def test_the_cloth_counts_and_not_the_pattern() -> None:
    """Where the cloth was cut narrower than its pattern says, less can be let out."""
    old = cut_draft()
    new = changed(old, "add-ease", by="30mm")
    held = ("front.centre", "back.centre")
    garment = msgspec.structs.replace(GARMENT, stitched_down=held)
    narrow = {name: polygon.buffer(-6) for name, polygon in cloth(old).items()}
    assert alteration(garment, cloth(old), old, new).possible is Possible.CAN
    found = alteration(garment, narrow, old, new)
    (back,) = [piece for piece in found.pieces if piece.piece == "back"]
    assert back.edge("side").possible is Possible.PARTLY


def test_a_garment_is_judged_by_its_worst_piece_and_a_piece_by_its_worst_edge() -> None:
    """Only the back was cut narrow, and only its side has to be let out."""
    old = cut_draft()
    new = changed(old, "add-ease", by="30mm")
    held = ("front.centre", "back.centre")
    garment = msgspec.structs.replace(GARMENT, stitched_down=held)
    cut = cloth(old)
    found = alteration(garment, {**cut, "back": cut["back"].buffer(-6)}, old, new)
    by_piece = {piece.piece: piece.possible for piece in found.pieces}
    assert by_piece == {
        "front": Possible.CAN,
        "back": Possible.PARTLY,
        "sleeve": Possible.CAN,
    }
    (back,) = [piece for piece in found.pieces if piece.piece == "back"]
    assert {edge.possible for edge in back.edges} == {Possible.CAN, Possible.PARTLY}
    assert found.possible is Possible.PARTLY
    assert not found.stays
