"""join-pieces: join two pieces along a seam into one."""

from typing import ClassVar

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, name, require_new_name
from trueup.geometry.cuts.joined.joining import joined
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import said
from trueup.geometry.units import Unit


@kind("join-pieces")
class JoinPieces(Change):
    """Join two pieces along the seam between them into one, without that seam.

    A yoke cut from the front and from the back is joined at the shoulder, side panels at the side,
    a facing of the front to that of the back. The second piece is laid to the first, which keeps
    its grain and its place; lines that go on from one to the other, as neck and armhole do across a
    shoulder, are one line then. What both pieces have by one name otherwise has the name of its
    piece before it, as front-yoke-centre.

    It is the reverse of a cut: both pieces are still told of by their names, and are measured, as
    they lie in the one they make. A step that names one of them, or a correction of what they were
    cut from, is made on that piece and comes to the one; a step that names the one comes to both.

    The two lines have to be sewn to each other and to nothing else, be alike in length, and lie on
    each other within 1/16 in: what curves otherwise on the one than on the other would leave or
    take cloth, and is refused with the amounts. So it is in a replay, when a correction leaves them
    unlike. A dart that opens on the seam is turned away first; pleats, vents and marks that are
    told from a level come after.
    """

    of_parts: ClassVar[bool] = True
    phrases = ("join the pieces",)

    edge: str = name("line of the piece that stays in place, as front-yoke.shoulder", of="edge")
    to: str = name("line of the other piece it is sewn to, as back-yoke.shoulder", of="edge")
    name: str = free_text("what the joined piece is called, such as yoke")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    def carried_out(self, draft: Draft) -> Draft:
        if draft.has_piece(self.name):
            raise DoesNotFit(said("name-is-taken", name=self.name), said("another-name"))
        first, second = (draft.split_edge_name(line) for line in (self.edge, self.to))
        return joined(draft, first, second, self.name)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        where = f" on the {self.side}" if self.side else ""
        return f"join {self.edge} to {self.to}, as one piece ({self.name}){where}"
