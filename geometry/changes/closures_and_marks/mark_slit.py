"""mark-slit: mark a slit that is cut from an edge into a piece, as for the placket of a sleeve."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import free_text, length, name, position, require_new_name
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.polygons import polyline
from trueup.geometry.marking.adding import beyond_cloth, with_new_marks
from trueup.geometry.marking.laid_on import binding_of
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.measures import mark_measures
from trueup.geometry.pieces.dart import Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark, OnEdge, Purpose
from trueup.geometry.pieces.piece import Grainline, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.said import said
from trueup.geometry.units import Unit, format_length


@kind("mark-slit")
class MarkSlit(Change):
    """Mark a slit that is cut from an edge into a piece, square to the edge.

    So a sleeve is opened at its hem for a placket, in the back third near its seam. With a
    `binding` so wide, as it is cut, a straight strip is drafted that binds both sides of the slit
    in one; it is twice as long as the slit, with 10 mm more at either end (common practice, no
    source). The slit is no seam: what binds it is sewn on along the mark.
    """

    phrases = ("mark a slit",)

    edge: str = name("edge it is cut from, as piece.edge", of="edge")
    at: Position = position("where along that edge", on="edge")
    deep: float = length("how far it is cut in", low=10, high=800)
    binding: float | None = length(
        "width of the strip that binds it, as cut", None, low=10, high=150
    )
    name: str = free_text("what the slit is called", "slit")

    def __post_init__(self) -> None:
        require_new_name("name", self.name)

    @property
    def _strip(self) -> str:
        return binding_of(self.name)

    def carried_out(self, draft: Draft) -> Draft:
        piece_name, edge = draft.split_edge_name(self.edge)
        piece = draft.piece(piece_name)
        if piece.fold == edge:
            raise DoesNotFit(said("on-fold"), said("name-another-edge"))
        mark = self._mark(edge)
        beyond = beyond_cloth(piece, mark)
        if beyond > 0:
            raise DoesNotFit(said("leaves-piece", beyond=beyond), said("place-or-size"))
        line = polyline(runs_of(piece, mark)[0])
        for of in piece.edges:
            for mouth in of.mouths:
                self._require_clear(line.intersects(polyline(_legs(mouth))), mouth.dart.name)
        for dart in piece.inner_darts:
            self._require_clear(line.intersects(dart.diamond), dart.name)
        marked = with_new_marks(draft, piece_name, mark)
        if self.binding is None:
            return marked
        if draft.has_piece(self._strip):
            raise DoesNotFit(said("name-is-taken", name=self._strip), said("another-name"))
        return replace(marked, pieces=(*marked.pieces, self._bound(self.binding)))

    def _mark(self, edge: str) -> InnerMark:
        way = (0j, complex(0, self.deep))
        return InnerMark(self.name, Purpose.SLIT, OnEdge(edge, self.at), (way,))

    def _require_clear(self, meets: bool, dart: str) -> None:
        if meets:
            raise DoesNotFit(said("cut-through-dart", dart=dart), said("another-place"), dart=dart)

    def _bound(self, width: float) -> Piece:
        long = 2 * self.deep + 20.0
        corners = (0j, complex(width, 0), complex(width, long), complex(0, long))
        names = ("top", "outer-edge", "bottom", "sewn-edge")
        edges = tuple(
            Edge(each, f"{each}-start", f"{names[(k + 1) % 4]}-start",
                 (Chain.line(corners[k], corners[(k + 1) % 4]),))
            for k, each in enumerate(names)
        )  # fmt: skip
        middle = complex(width / 2, 0)
        grain = Grainline(middle + 0.2j * long, middle + 0.8j * long)
        return Piece(self._strip, edges, grainline=grain)

    def meant(self, draft: Draft) -> tuple[str, ...]:
        piece, _ = draft.split_edge_name(self.edge)
        return (mark_measures(piece, self.name)[0],)

    def in_words(self, unit: Unit) -> str:
        side = f" on the {self.side}" if self.side else ""
        bound = f", bound {format_length(self.binding, unit)} wide" if self.binding else ""
        long = format_length(self.deep, unit)
        where = f"{self.edge}, {self.at.in_words(unit)}"
        return f"mark a slit of {long} in {where} ({self.name}){bound}{side}"


def _legs(mouth: Mouth) -> tuple[complex, complex, complex]:
    return mouth.first, mouth.tip, mouth.second
