"""A draft read back from the plain values that `form.py` writes; what contradicts is refused."""

from typing import Annotated

import msgspec
from msgspec import Meta, Struct

from trueup.geometry.errors import GeometryError
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.cubic import Cubic
from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.cut import Cut, LineEnd, SecondLine
from trueup.geometry.pieces.dart import Dart, InnerDart
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam, Section
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.cut_corner import CutCorner
from trueup.geometry.pieces.marks.label import Label
from trueup.geometry.pieces.marks.mark import InnerMark, MarkPlace, Purpose
from trueup.geometry.pieces.piece import Grainline, Level, Notch, Piece, Pleat, PleatStyle, Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.side import Side
from trueup.geometry.said import said
from trueup.lineage.drawings.tracing.consistency import require_consistent
from trueup.lineage.drawings.tracing.form import FORM_VERSION
from trueup.lineage.errors import BadRecord
from trueup.lineage.limits import FARTHEST, MOST_EDGES, MOST_PIECES, MOST_SEAMS

Pair = tuple[float, float]

_EDGES = Meta(max_length=MOST_EDGES)
_PIECES = Meta(max_length=MOST_PIECES)
_SEAMS = Meta(max_length=MOST_SEAMS)


class _Dart(Struct):
    name: str
    apex: Pair
    setback: float
    turned: bool


class _InnerDart(Struct):
    name: str
    upper: Pair
    lower: Pair
    left: Pair
    right: Pair


class _Edge(Struct):
    name: str
    starts_at: str
    ends_at: str
    parts: Annotated[list[list[tuple[Pair, Pair, Pair, Pair]]], _EDGES]
    darts: Annotated[list[_Dart], _EDGES] = []
    shaped: bool = False


class _Notch(Struct, rename={"corner": "from"}):
    name: str
    edge: str
    corner: str
    distance: float | None = None
    share: float | None = None


class _Position(Struct, rename={"corner": "from"}):
    corner: str
    distance: float | None = None
    share: float | None = None


class _Pleat(Struct):
    name: str
    edge: str
    at: _Position
    ends: str
    ends_at: _Position
    depth: float
    style: PleatStyle = PleatStyle.KNIFE
    towards: str = ""
    stitched: float = 0.0


class _Vent(Struct):
    name: str
    edge: str
    at: _Position
    hem: str
    width: float
    slope: float = 0.0
    allowance: float = 0.0


class _Level(Struct):
    name: str
    y: float
    along: str | None = None


class _Mark(Struct):
    name: str
    purpose: Purpose
    place: MarkPlace
    runs: Annotated[list[Annotated[list[Pair], _EDGES]], _EDGES]


class _Piece(Struct):
    name: str
    edges: Annotated[list[_Edge], _EDGES]
    inner_darts: Annotated[list[_InnerDart], _EDGES] = []
    notches: Annotated[list[_Notch], _EDGES] = []
    grainline: tuple[Pair, Pair] | None = None
    fold: str | None = None
    levels: Annotated[list[_Level], _EDGES] = []
    allowances: Annotated[dict[str, float], _EDGES] = {}
    worn: Side | None = None
    pleats: Annotated[list[_Pleat], _EDGES] = []
    vents: Annotated[list[_Vent], _EDGES] = []
    free: Annotated[list[str], _EDGES] = []
    marks: Annotated[list[_Mark], _EDGES] = []
    label: Label | None = None
    corners: Annotated[list[CutCorner], _EDGES] = []


class _Run(Struct):
    piece: str
    edge: str
    backwards: bool = False


class _Section(Struct):
    name: str
    ends_at: tuple[str, str]
    ease_low: float
    ease_high: float
    tolerance: float


class _Seam(Struct):
    name: str
    side: Annotated[list[_Run], _EDGES]
    mate: Annotated[list[_Run], _EDGES]
    ease_low: float
    ease_high: float
    tolerance: float
    sections: Annotated[list[_Section], _EDGES] = []
    worn: Side | None = None
    open_from: tuple[str, str] | None = None


class _End(Struct):
    piece: str
    edge: str
    corner: str


class _Join(Struct):
    name: str
    first: _End
    second: _End
    degrees: float
    worn: Side | None = None


class _LineEnd(Struct):
    edge: str
    dart: str
    setback: float = 0.0


class _SecondLine(Struct):
    line: str
    begins: _LineEnd
    ends: _LineEnd


class _Cut(Struct):
    line: str
    whole: _Piece
    parts: tuple[str, str]
    begins: _LineEnd
    ends: _LineEnd
    worn: Side | None = None
    second: _SecondLine | None = None


class _Draft(Struct):
    form: int
    pieces: Annotated[list[_Piece], _PIECES]
    seams: Annotated[list[_Seam], _SEAMS] = []
    joins: Annotated[list[_Join], _SEAMS] = []
    cuts: Annotated[list[_Cut], _PIECES] = []


def read_form(text: str, place: str) -> Draft:
    """Return the draft that a text of JSON describes; raises BadRecord naming the place."""
    try:
        form = msgspec.json.decode(text, type=_Draft)
    except (msgspec.MsgspecError, RecursionError) as error:
        raise BadRecord(place, f"what it says of its pieces cannot be read: {error}") from None
    if form.form != FORM_VERSION:
        raise BadRecord(place, f"what it says of its pieces is of form {form.form}, not 1")
    try:
        draft = Draft(
            tuple(_piece(piece) for piece in form.pieces),
            tuple(_seam(seam) for seam in form.seams),
            tuple(
                Join(j.name, _end(j.first), _end(j.second), _near(j.degrees), j.worn)
                for j in form.joins
            ),
            tuple(_cut(cut) for cut in form.cuts),
        )
        require_consistent(draft, place)
    except GeometryError as error:
        raise BadRecord(place, error.says) from None
    except _OutOfReach:
        reason = said("beyond", most=FARTHEST)
        raise BadRecord(place, reason) from None
    return draft


class _OutOfReach(Exception):
    """A number that no draft holds."""


def _near(amount: float) -> float:
    if not abs(amount) <= FARTHEST:
        raise _OutOfReach
    return amount


def _point(pair: Pair) -> Point:
    return complex(_near(pair[0]), _near(pair[1]))


def _piece(form: _Piece) -> Piece:
    return Piece(
        form.name,
        tuple(_edge(edge) for edge in form.edges),
        tuple(
            InnerDart(d.name, _point(d.upper), _point(d.lower), _point(d.left), _point(d.right))
            for d in form.inner_darts
        ),
        tuple(Notch(n.name, n.edge, Position(n.corner, n.distance, n.share)) for n in form.notches),
        Grainline(*(_point(pair) for pair in form.grainline)) if form.grainline else None,
        form.fold,
        tuple(Level(level.name, _near(level.y), level.along) for level in form.levels),
        tuple((name, _near(mm)) for name, mm in form.allowances.items()),
        form.worn,
        tuple(_pleat(pleat) for pleat in form.pleats),
        tuple(_mark(mark) for mark in form.marks),
        form.label,
        tuple(form.corners),
        tuple(_vent(vent) for vent in form.vents),
        tuple(form.free),
    )


def _vent(form: _Vent) -> Vent:
    at = Position(form.at.corner, form.at.distance, form.at.share)
    amounts = (_near(mm) for mm in (form.width, form.slope, form.allowance))
    return Vent(form.name, form.edge, at, form.hem, *amounts)


def _pleat(form: _Pleat) -> Pleat:
    at, ends_at = (Position(p.corner, p.distance, p.share) for p in (form.at, form.ends_at))
    depth, stitched = _near(form.depth), _near(form.stitched)
    line = (form.edge, at, form.ends, ends_at)
    return Pleat(form.name, *line, depth, form.style, form.towards, stitched)


def _mark(form: _Mark) -> InnerMark:
    runs = tuple(tuple(map(_point, run)) for run in form.runs)
    return InnerMark(form.name, form.purpose, form.place, runs)


def _cut(form: _Cut) -> Cut:
    ends = _line_end(form.begins), _line_end(form.ends)
    other = form.second
    second = (
        SecondLine(other.line, _line_end(other.begins), _line_end(other.ends)) if other else None
    )
    return Cut(form.line, _piece(form.whole), form.parts, *ends, form.worn, second)


def _line_end(form: _LineEnd) -> LineEnd:
    return LineEnd(form.edge, form.dart, _near(form.setback))


def _edge(form: _Edge) -> Edge:
    return Edge(
        form.name,
        form.starts_at,
        form.ends_at,
        tuple(Chain(tuple(Cubic(*map(_point, four)) for four in part)) for part in form.parts),
        tuple(Dart(d.name, _point(d.apex), _near(d.setback), d.turned) for d in form.darts),
        form.shaped,
    )


def _seam(form: _Seam) -> Seam:
    side, mate = (
        tuple(Run(run.piece, run.edge, run.backwards) for run in runs)
        for runs in (form.side, form.mate)
    )
    sections = tuple(Section(s.name, _band(s), s.ends_at) for s in form.sections)
    return Seam(form.name, side, mate, _band(form), sections, form.worn, form.open_from)


def _band(form: _Seam | _Section) -> Band:
    return Band(*(_near(mm) for mm in (form.ease_low, form.ease_high, form.tolerance)))


def _end(form: _End) -> tuple[str, str, str]:
    return form.piece, form.edge, form.corner
