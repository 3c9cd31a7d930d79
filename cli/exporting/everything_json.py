"""Everything known of a pattern as one JSON document, for other programs to read.

Lengths are mm, points are [x, y] with x to the right and y DOWN, in the pattern's own frame. The
geometry stands in full precision: reading it back gives the same draft. `format_version` grows
when a reader of the form before would misread the new one; new keys may be added without.
Format: RFC 8259, The JavaScript Object Notation (JSON) Data Interchange Format.
"""

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any, TypeVar

from trueup.cli.exporting.exported import Exported
from trueup.cli.json import forms as json_forms
from trueup.geometry.marking.places import runs_of
from trueup.geometry.measuring.walk import walk
from trueup.geometry.pieces.beyond.marks import is_beyond
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.draft import Draft, Seam
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.marks.mark import InnerMark
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pleats.laid_open import laid_open
from trueup.lineage.drawings.tracing.form import draft_form, point_form

FORMAT_VERSION = 1

Form = dict[str, Any]
Part = TypeVar("Part")


def everything_json(exported: Exported) -> bytes:
    """Return all that is known of a node as the content of a JSON file."""
    draft = exported.draft
    form = draft_form(draft)
    document = {
        "format": "trueup pattern",
        "format_version": FORMAT_VERSION,
        "node": exported.node,
        "lengths": "mm",
        "fingerprint": exported.summary.fingerprint,
        "pieces": _each(_piece, draft.pieces, form["pieces"]),
        "seams": _each(partial(_seam, draft), draft.seams, form["seams"]),
        "joins": form["joins"],
        "measures": json_forms.measures(exported.node, exported.summary.measures)["measures"],
        "findings": json_forms.findings(exported.node, exported.findings)["findings"],
    }
    return json_forms.as_text(document).encode("utf-8")


def _piece(piece: Piece, form: Form) -> Form:
    return form | {
        "edges": _each(_edge, piece.edges, form["edges"]),
        "inner_darts": _each(_inner_dart, piece.inner_darts, form["inner_darts"]),
        "notches": _each(partial(_notch, piece), piece.notches, form["notches"]),
        "area_mm2": json_forms.mm(laid_open(piece).area),
        **(
            {"marks": _each(partial(_mark, piece), piece.marks, form["marks"])}
            if piece.marks
            else {}
        ),
    }


def _each(
    told: Callable[[Part, Form], Form], parts: Iterable[Part], forms: Iterable[Form]
) -> list[Form]:
    """Return the form of each part with what is measured on it."""
    return [told(part, form) for part, form in zip(parts, forms, strict=True)]


def _edge(edge: Edge, form: Form) -> Form:
    """Return an edge: its parts are runs of curves, each of four points, from dart to dart."""
    return form | {
        "length_mm": json_forms.mm(edge.length),
        "darts": _each(_dart, edge.mouths, form["darts"]),
    }


def _dart(mouth: Mouth, form: Form) -> Form:
    return form | {
        "mouth": [point_form(mouth.first), point_form(mouth.second)],
        "tip": point_form(mouth.tip),
        "intake_mm": json_forms.mm(mouth.intake),
    }


def _inner_dart(dart: InnerDart, form: Form) -> Form:
    return form | {"intake_mm": json_forms.mm(dart.intake)}


def _notch(piece: Piece, notch: Notch, form: Form) -> Form:
    if is_beyond(piece, notch):
        return form | {"point": None}
    edge = piece.edge(notch.edge)
    return form | {"point": point_form(edge.point_at(notch.at.along(edge)))}


def _mark(piece: Piece, mark: InnerMark, form: Form) -> Form:
    """Return a mark with its lines as they lie, in the pattern's frame; none beyond an edge."""
    if is_beyond(piece, mark):
        return form | {"lies": []}
    return form | {"lies": [[point_form(p) for p in run] for run in runs_of(piece, mark)]}


def _seam(draft: Draft, seam: Seam, form: Form) -> Form:
    walked = walk(draft, seam)
    return form | {"side_mm": json_forms.mm(walked.side), "mate_mm": json_forms.mm(walked.mate)}
