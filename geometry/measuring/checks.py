"""Check a draft: do its seams sew together, its darts close and its lines run on smoothly.

seam          a seam walks outside the ease its sides are allowed (error, mm)
legs          the two legs of a dart differ (error, mm)
outline       the outline of a piece crosses itself (error, mm of outline caught in the loop)
dart-outside  a dart runs out of the cloth (error, mm of its sewing line that lie outside)
kink          an edge that runs on across a seam turns there (warning, degrees)
dart-kink     an edge turns where a dart on it is closed (warning, degrees)
wave          an edge, as sewn, bends back and forth (warning, mm that it stands out)
radius        an edge, as sewn, bends too tightly (warning, mm)
cloth-left    a dart leaves too little cloth up to the next line (warning, mm)
narrow        two edges leave too little cloth between them (warning, mm)
"""

from collections.abc import Iterator
from functools import lru_cache

from shapely.geometry import LineString, Polygon

from trueup.geometry.lines.polygons import polygon, polyline
from trueup.geometry.measuring.cloth_left import cloth_findings
from trueup.geometry.measuring.fairness import fairness_findings
from trueup.geometry.measuring.finding import Finding, Place, Severity
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.closed_line import closed
from trueup.geometry.pieces.corner import corner_degrees, edges_at
from trueup.geometry.pieces.crossing import crossing
from trueup.geometry.pieces.draft import Draft, Join, Run, Seam
from trueup.geometry.pieces.piece import InnerDart, Mouth, Piece
from trueup.geometry.tolerance import FLATTEN, LEGS_EQUAL, SMOOTH_JOIN_DEGREES


def check(draft: Draft) -> tuple[Finding, ...]:
    """Return all that does not hold in a draft: of its pieces, then its seams, then its joins.

    No two findings have the same key. Raises NoSuchName when a seam or a join names an edge or a
    corner that the draft does not have.
    """
    found = [finding for piece in draft.pieces for finding in piece_findings(piece)]
    found.extend(finding for seam in draft.seams if (finding := _walked(draft, seam)))
    places: set[Place] = set()
    for join in draft.joins:
        # An armhole runs on at both its ends: the second join is told by its other edge.
        first, second = join.first[:2], join.second[:2]
        place = second if first in places else first
        places.add(place)
        if finding := _joined(draft, join, place):
            found.append(finding)
    return tuple(found)


@lru_cache(maxsize=512)
def piece_findings(piece: Piece) -> tuple[Finding, ...]:
    """Return what does not hold in one piece by itself: its outline, its darts and its lines."""
    own = (*_outline(piece), *_edge_darts(piece), *_inner_darts(piece))
    return (*own, *fairness_findings(piece), *cloth_findings(piece))


def _walked(draft: Draft, seam: Seam) -> Finding | None:
    walked = walk(draft, seam)
    if walked.matches:
        return None
    side, mate = _sewn(seam.side), _sewn(seam.mate)
    if seam.ease_low == seam.ease_high == 0:
        longer, shorter = (side, mate) if walked.ease > 0 else (mate, side)
        verdict = f"{longer} is {abs(walked.ease):.1f} mm longer than {shorter}"
        allowed = f"they may differ by {seam.tolerance:.1f} mm"
    else:
        verdict = f"the ease is {walked.ease:.1f} mm"
        allowed = f"{seam.ease_low:.1f} to {seam.ease_high:.1f} mm are allowed"
    return Finding(
        "seam",
        Severity.ERROR,
        seam.side[0].piece,
        seam.side[0].edge,
        walked.ease,
        seam.ease_low,
        seam.ease_high,
        f"{side} measures {walked.side:.1f} mm and {mate} {walked.mate:.1f} mm: "
        f"{verdict}; {allowed}.",
        tuple((run.piece, run.edge) for run in seam.runs),
    )


def _sewn(runs: tuple[Run, ...]) -> str:
    return " + ".join(str(run) for run in runs)


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
        f"{first} and {second} meet at {total:.1f} degrees where they are sewn together at the "
        f"{join.first[2]}; {join.degrees:.0f} would be right, and "
        f"{SMOOTH_JOIN_DEGREES:.0f} more or less are allowed.",
        tuple((piece.name, e.name) for piece, corner in corners for e in edges_at(piece, corner)),
    )


def _outline(piece: Piece) -> Iterator[Finding]:
    crossed = crossing(piece)
    if crossed is None:
        return
    where = f"{piece.name}.{crossed.edge}"
    if crossed.other != crossed.edge:
        where = f"{where} and {piece.name}.{crossed.other}"
    yield Finding(
        "outline",
        Severity.ERROR,
        piece.name,
        crossed.edge,
        crossed.loop,
        0.0,
        0.0,
        f"The outline of {piece.name} crosses or touches itself at {where}; "
        f"{crossed.loop:.1f} mm of it are caught in the loop.",
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
                    f"{piece.name}.{edge.name} turns by {kink:.1f} degrees where the dart "
                    f"{piece.name}.{mouth.dart.name} is closed; "
                    f"{SMOOTH_JOIN_DEGREES:.0f} are allowed.",
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
            f"The legs of the dart {piece.name}.{mouth.dart.name} measure {first:.1f} mm and "
            f"{second:.1f} mm: they differ by {difference:.1f} mm; {LEGS_EQUAL:.1f} mm is allowed.",
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
            f"The dart {piece.name}.{dart} runs out of the cloth: {length:.1f} mm of its sewing "
            "line lie outside the piece.",
            tuple((piece.name, edge) for edge in edges),
        )
