"""notch-dart: notch both sides of the mouth of a dart."""

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import name
from trueup.geometry.marking.adding import with_new_marks
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.marks.mark import AtMouth, InnerMark, Purpose
from trueup.geometry.units import Unit


@kind("notch-dart")
class NotchDart(Change):
    """Notch both sides of the mouth of a dart, where its legs are laid on each other to be sewn.

    The notches stand on the ends of the legs, and with an allowance where the legs, drawn on, meet
    the cutting line. They stay with the dart: deepened, turned to another edge or split, it opens
    between them; where it is released they are gone. A dart inside a piece has no mouth.
    """

    phrases = ("notch the dart",)

    dart: str = name("dart on an edge, such as front.bust", of="dart")

    def carried_out(self, draft: Draft) -> Draft:
        piece, _, dart = draft.find_dart(self.dart)
        marks = (
            InnerMark(f"{dart.name}-first", Purpose.NOTCH, AtMouth(dart.name)),
            InnerMark(f"{dart.name}-second", Purpose.NOTCH, AtMouth(dart.name, second=True)),
        )
        return with_new_marks(draft, piece.name, *marks)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        return f"notch the mouth of {self.dart}{side}"
