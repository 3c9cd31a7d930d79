from xml.etree import ElementTree

from tests.builders import block
from tests.cli.drawing.legible import assert_legible
from trueup.cli.drawing.draft_picture import draft_picture
from trueup.cli.drawing.scene.writer import svg_text
from trueup.geometry.changes import kind_named


def test_no_name_of_a_narrow_piece_runs_over_its_neighbour_or_the_margin() -> None:
    draft = block()
    for edge, name in (("sleeve.cap", "cap-facing-of-many-words"), ("front.neck", "neck-facing")):
        draft = kind_named("draft-facing")(edge=edge, width=30.0, name=name).apply(draft)
    draft = kind_named("label-piece")(piece="neck-facing", count=2.0, note="one on the bias").apply(
        draft
    )
    assert_legible(ElementTree.fromstring(svg_text(draft_picture(draft, "blouse"))))
