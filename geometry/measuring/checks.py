"""Check a draft: do its seams sew together, its darts close and its lines run on smoothly.

seam          a seam, or a section of it, walks outside the ease it is allowed (error, mm)
legs          the two legs of a dart differ (error, mm)
outline       the outline of a piece crosses itself (error, mm of outline caught in the loop)
dart-outside  a dart runs out of the cloth (error, mm of its sewing line that lie outside)
kink          an edge that runs on across a seam turns there (warning, degrees)
dart-kink     an edge turns where a dart on it is closed (warning, degrees)
wave          an edge, as sewn, bends back and forth (warning, mm that it stands out)
radius        an edge, as sewn, bends too tightly (warning, mm)
cloth-left    a dart leaves too little cloth up to the next line (warning, mm)
beyond-end    a mark lies beyond the end of its line, which became too short (error, mm)
narrow        two edges leave too little cloth between them (warning, mm)
"""

from collections.abc import Iterator
from functools import lru_cache

from shapely.geometry import LineString, Polygon

from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.measuring.beyond_ends import beyond_findings
from trueup.geometry.measuring.cloth_left import cloth_findings
from trueup.geometry.measuring.fairness import fairness_findings
from trueup.geometry.measuring.finding import Finding, Place, Severity
from trueup.geometry.measuring.seams import seam_finding
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.corner import corner_degrees, edges_at
from trueup.geometry.pieces.crossing import crossing
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.draft import Draft, Join
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.said import said
from trueup.geometry.tolerance import FLATTEN, LEGS_EQUAL, SMOOTH_JOIN_DEGREES


def check(draft: Draft) -> tuple[Finding, ...]:
    """Return all that does not hold in a draft: of its pieces, seams, joins and marks.

    No two findings have the same key. Raises NoSuchName when a seam or a join names an edge or a
    corner that the draft does not have.
    """
    found = [finding for piece in draft.pieces for finding in piece_findings(piece)]
    found.extend(finding for seam in draft.seams if (finding := seam_finding(draft, seam)))
    places: set[Place] = set()
    for join in draft.joins:
        # An armhole runs on at both its ends: the second join is told by its other edge.
        first, second = join.places
        place = second if first in places else first
        places.add(place)
        if finding := _joined(draft, join, place):
            found.append(finding)
    found.extend(beyond_findings(draft))
    return tuple(found)


@lru_cache(maxsize=512)
def piece_findings(piece: Piece) -> tuple[Finding, ...]:
    """Return what does not hold in one piece by itself: its outline, its darts and its lines."""
    own = (*_outline(piece), *_edge_darts(piece), *_inner_darts(piece))
    return (*own, *fairness_findings(piece), *cloth_findings(piece))


def _joined(draft: Draft, join: Join, place: Place) -> Finding | None:
    corners = [(draft.piece(piece), corner) for piece, _, corner in (join.first, join.second)]
    total = sum(corner_degrees(piece, corner) for piece, corner in corners)
    if abs(total - join.degrees) <= SMOOTH_JOIN_DEGREES:
        return None
    first, second = (".".join(end[:2]) for end in (join.first, join.second))
    return Finding(
        "kink",
        Severity.WARNING,
        *place,
        total,
        join.degrees - SMOOTH_JOIN_DEGREES,
        join.degrees + SMOOTH_JOIN_DEGREES,
        said(
            "kink-of-ends" if first == second else "kink",
            first=first,
            second=second,
            corner=join.first[2],
            measured=total,
            right=join.degrees,
            slack=SMOOTH_JOIN_DEGREES,
        ),
        tuple((piece.name, e.name) for piece, corner in corners for e in edges_at(piece, corner)),
    )


def _outline(piece: Piece) -> Iterator[Finding]:
    crossed = crossing(piece)
    if crossed is None:
        return
    places = {"place": f"{piece.name}.{crossed.edge}", "other": f"{piece.name}.{crossed.other}"}
    yield Finding(
        "outline",
        Severity.ERROR,
        piece.name,
        crossed.edge,
        crossed.loop,
        0.0,
        0.0,
        said(
            "outline" if crossed.other == crossed.edge else "outline-of-two",
            piece=piece.name,
            loop=crossed.loop,
            **places,
        ),
        tuple(sorted({(piece.name, crossed.edge), (piece.name, crossed.other)})),
    )


def _edge_darts(piece: Piece) -> Iterator[Finding]:
    for edge in piece.edges:
        if not edge.darts:
            continue
        line = closed(edge)
        place = ((piece.name, edge.name),)
        for mouth in edge.mouths:
            yield from _legs(piece, mouth, place)
            kink = line.kink_degrees(mouth.dart.name)
            if kink > SMOOTH_JOIN_DEGREES:
                yield Finding(
                    "dart-kink",
                    Severity.WARNING,
                    piece.name,
                    mouth.dart.name,
                    kink,
                    0.0,
                    SMOOTH_JOIN_DEGREES,
                    said(
                        "dart-kink",
                        place=f"{piece.name}.{edge.name}",
                        dart=f"{piece.name}.{mouth.dart.name}",
                        measured=kink,
                        allowed=SMOOTH_JOIN_DEGREES,
                    ),
                    place,
                )
    yield from _darts_outside(piece)


def _legs(piece: Piece, mouth: Mouth, place: tuple[Place, ...]) -> Iterator[Finding]:
    first, second = mouth.legs
    difference = abs(first - second)
    if difference > LEGS_EQUAL:
        yield Finding(
            "legs",
            Severity.ERROR,
            piece.name,
            mouth.dart.name,
            difference,
            0.0,
            LEGS_EQUAL,
            said(
                "legs",
                dart=f"{piece.name}.{mouth.dart.name}",
                first=first,
                second=second,
                measured=difference,
                allowed=LEGS_EQUAL,
            ),
            place,
        )


def _darts_outside(piece: Piece) -> Iterator[Finding]:
    if not any(edge.darts for edge in piece.edges):
        return
    cloth = polygon(p for e in piece.edges for part in e.parts for p in part.flattened())
    for edge in piece.edges:
        for mouth in edge.mouths:
            line = polyline((mouth.first, mouth.tip, mouth.second))
            yield from _outside(piece, mouth.dart.name, line, cloth, (edge.name,))


def _inner_darts(piece: Piece) -> Iterator[Finding]:
    if not piece.inner_darts:
        return
    cloth = piece.outline_polygon
    for dart in piece.inner_darts:
        yield from _outside(piece, dart.name, _seam_of(dart), cloth, piece.edge_names)


def _seam_of(dart: InnerDart) -> LineString:
    return polyline((dart.upper, dart.right, dart.lower, dart.left, dart.upper))


def _outside(
    piece: Piece, dart: str, line: LineString, cloth: Polygon, edges: tuple[str, ...]
) -> Iterator[Finding]:
    # An outline that crosses itself has no inside to speak of, and is a finding of its own.
    if not piece.is_simple and not cloth.is_valid:
        return
    if cloth.covers(line):
        return
    length = float(line.difference(cloth.buffer(FLATTEN)).length)
    if length > FLATTEN:
        yield Finding(
            "dart-outside",
            Severity.ERROR,
            piece.name,
            dart,
            length,
            0.0,
            0.0,
            said("dart-outside", dart=f"{piece.name}.{dart}", measured=length),
            tuple((piece.name, edge) for edge in edges),
        )
