"""split-dart: share what a dart takes in with a second mouth, opened from the same apex."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name as named
from trueup.geometry.changes.declaring import number, position, require_new_name
from trueup.geometry.errors import BrokenOutline, DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.redrawing.darts import find_edge_dart, room_for_tip
from trueup.geometry.redrawing.sound import require_cloth, require_sound
from trueup.geometry.redrawing.turning.new_mouth import cut_to
from trueup.geometry.said import said

_TIP_OFF_APEX = 15.0
"""A second dart stops at least so far short of the apex it shares, mm (common practice, no source):
two that were sewn up to one point would leave nothing of the cloth there."""


@kind("split-dart")
class SplitDart(Change):
    """Share a dart's intake with a second dart, opened from the same apex at a place on an edge.

    The paper between the two mouths is turned about the apex by a `share` of the dart's angle:
    that much opens at the new place, the rest stays. The two angles add up to the one there was;
    the sewn length of every edge, the apex and the cloth stay as they are. The half of the piece
    that holds the centre stays on the table. The place is measured along the sewn edge.

    The new dart is sewn to a tip as far from the apex as that of the first, and at least 15 mm from
    it (common practice, no source); `move-apex` moves either tip. At least 5 mm of cloth are left
    beside the new dart. A split dart is one again after `join-darts`.
    """

    phrases = ("split the dart",)

    dart: str = named("dart that gives up a share, as piece.dart", of="dart")
    edge: str = named("edge the second dart opens on, as piece.edge", of="edge")
    at: Position = position("where along that edge it opens", on="edge")
    share: float = number(
        "how much of the angle the second dart takes, such as 0.5 for half",
        0.5,
        low=0.05,
        high=0.95,
    )
    name: str | None = named(
        "what the second dart is called; the first one's name with -2 unless given", None
    )

    def __post_init__(self) -> None:
        if self.name:
            require_new_name("name", self.name)

    @property
    def second(self) -> str:
        """Return the full name of the second dart."""
        piece, _, first = self.dart.partition(".")
        return f"{piece}.{self.name or f'{first}-2'}"

    def carried_out(self, draft: Draft) -> Draft:
        piece, _, mouth = find_edge_dart(draft, self.dart)
        second = self.second.partition(".")[2]
        if second in (*piece.dart_names, *piece.edge_names):
            raise DoesNotFit(said("name-is-taken", name=second), said("another-name"))
        dart = mouth.dart
        cut = cut_to(draft, piece, mouth, self.edge, self.at)
        setback = max(dart.setback, _TIP_OFF_APEX)
        opened = replace(dart, name=second, setback=setback, turned=True)
        try:
            changed = cut.shared(self.share, opened)
        except BrokenOutline as broken:
            raise DoesNotFit(broken.reason, said("another-place")) from broken
        if setback > room_for_tip(changed.mouth(second)):
            reason = said("tip-short-of-pivot", setback=setback)
            far = dart.setback > _TIP_OFF_APEX
            raise DoesNotFit(reason, said("tip-back-first" if far else "another-place"))
        require_sound(changed, second, said("another-place"))
        require_cloth(piece, changed, second, said("another-place"))
        return draft.with_pieces(changed)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake", f"{self.second}.intake")

    def knock_on(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.second}.leg",)
