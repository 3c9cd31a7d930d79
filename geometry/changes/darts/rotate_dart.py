"""rotate-dart: close a dart and open it at another place, by turning the paper between the two."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name, position
from trueup.geometry.errors import BrokenOutline, DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import find_edge_dart, room_for_tip
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.redrawing.turning.new_mouth import cut_to
from trueup.geometry.said import said


@kind("rotate-dart")
class RotateDart(Change):
    """Close a dart and open it at a place on another edge, or elsewhere on its own.

    The paper between the old mouth and the new one is turned about the apex by the dart's angle,
    with all that lies on it; the half that holds the centre stays on the table. The angle at the
    apex, the sewn length of every edge and the cloth stay as they are; the intake changes with the
    length of the legs. The dart keeps its name. The place is measured along the sewn edge.
    """

    phrases = ("turn the dart",)

    dart: str = name("dart that is moved, as piece.dart", of="dart")
    edge: str = name("edge it is opened on, as piece.edge", of="edge")
    at: Position = position("where along that edge it opens", on="edge")

    def carried_out(self, draft: Draft) -> Draft:
        piece, _, mouth = find_edge_dart(draft, self.dart)
        cut = cut_to(draft, piece, mouth, self.edge, self.at)
        try:
            changed = cut.pivoted()
        except BrokenOutline as broken:
            raise DoesNotFit(broken.reason, said("another-place")) from broken
        opened = changed.mouth(mouth.dart.name)
        if opened.dart.setback > room_for_tip(opened):
            reason = said("tip-short-of-pivot", setback=opened.dart.setback)
            raise DoesNotFit(reason, said("tip-back-first"))
        require_sound(changed, mouth.dart.name, said("another-place"))
        return draft.with_pieces(changed)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake", f"{self.dart}.leg")
