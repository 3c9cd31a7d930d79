"""Everything known of a pattern as one JSON document, for other programs to read.

Lengths are mm, points are [x, y] with x to the right and y DOWN, in the pattern's own frame. The
geometry stands in full precision: reading it back gives the same draft. `format_version` grows
when a reader of the form before would misread the new one; new keys may be added without.
Format: RFC 8259, The JavaScript Object Notation (JSON) Data Interchange Format.
"""

from typing import Any

from cli import json_forms
from cli.exporting.exported import Exported
from geometry.chain import Chain
from geometry.draft import Draft, Join, Run, Seam
from geometry.piece import Edge, InnerDart, Mouth, Notch, Piece
from geometry.points import Point
from geometry.walk import walk

FORMAT_VERSION = 1

Form = dict[str, Any]


def everything_json(exported: Exported) -> bytes:
    """Return all that is known of a node as the content of a JSON file."""
    draft = exported.draft
    document = {
        "format": "trueup pattern",
        "format_version": FORMAT_VERSION,
        "node": exported.node,
        "lengths": "mm",
        "fingerprint": exported.summary.fingerprint,
        "pieces": [_piece(piece) for piece in draft.pieces],
        "seams": [_seam(draft, seam) for seam in draft.seams],
        "joins": [_join(join) for join in draft.joins],
        "measures": json_forms.measures(exported.node, exported.summary.measures)["measures"],
        "findings": json_forms.findings(exported.node, exported.findings)["findings"],
    }
    return json_forms.as_text(document).encode("utf-8")


def _piece(piece: Piece) -> Form:
    grainline = piece.grainline
    return {
        "name": piece.name,
        "edges": [_edge(edge) for edge in piece.edges],
        "inner_darts": [_inner_dart(dart) for dart in piece.inner_darts],
        "notches": [_notch(piece, notch) for notch in piece.notches],
        "grainline": [_point(grainline.start), _point(grainline.end)] if grainline else None,
        "fold": piece.fold,
        "levels": [{"name": at.name, "y": at.y, "along": at.along} for at in piece.levels],
        "allowances": dict(piece.allowances),
        "area_mm2": json_forms.mm(piece.area),
    }


def _edge(edge: Edge) -> Form:
    """Return an edge: its parts are runs of curves, each of four points, from dart to dart."""
    return {
        "name": edge.name,
        "starts_at": edge.starts_at,
        "ends_at": edge.ends_at,
        "length_mm": json_forms.mm(edge.length),
        "parts": [_curves(part) for part in edge.parts],
        "darts": [_dart(mouth) for mouth in edge.mouths],
    }


def _curves(chain: Chain) -> list[list[list[float]]]:
    return [[_point(point) for point in cubic] for cubic in chain.cubics]


def _dart(mouth: Mouth) -> Form:
    return {
        "name": mouth.dart.name,
        "apex": _point(mouth.dart.apex),
        "setback": mouth.dart.setback,
        "turned": mouth.dart.turned,
        "mouth": [_point(mouth.first), _point(mouth.second)],
        "tip": _point(mouth.tip),
        "intake_mm": json_forms.mm(mouth.intake),
    }


def _inner_dart(dart: InnerDart) -> Form:
    return {
        "name": dart.name,
        "upper": _point(dart.upper),
        "lower": _point(dart.lower),
        "left": _point(dart.left),
        "right": _point(dart.right),
        "intake_mm": json_forms.mm(dart.intake),
    }


def _notch(piece: Piece, notch: Notch) -> Form:
    at, edge = notch.at, piece.edge(notch.edge)
    return {
        "name": notch.name,
        "edge": notch.edge,
        "from": at.corner,
        "distance": at.distance,
        "share": at.share,
        "point": _point(edge.point_at(at.along(edge))),
    }


def _seam(draft: Draft, seam: Seam) -> Form:
    walked = walk(draft, seam)
    return {
        "name": seam.name,
        "side": [_run(run) for run in seam.side],
        "mate": [_run(run) for run in seam.mate],
        "ease_low": seam.ease_low,
        "ease_high": seam.ease_high,
        "tolerance": seam.tolerance,
        "side_mm": json_forms.mm(walked.side),
        "mate_mm": json_forms.mm(walked.mate),
    }


def _run(run: Run) -> Form:
    return {"piece": run.piece, "edge": run.edge, "backwards": run.backwards}


def _join(join: Join) -> Form:
    first, second = (
        {"piece": piece, "edge": edge, "corner": corner}
        for piece, edge, corner in (join.first, join.second)
    )
    return {"name": join.name, "first": first, "second": second, "degrees": join.degrees}


def _point(point: Point) -> list[float]:
    return [point.real, point.imag]
