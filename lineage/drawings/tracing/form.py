"""A draft as plain values: what a drawing of it says beside its paths.

Lengths are mm, points are [x, y] with x to the right and y DOWN, in the draft's own frame and in
full precision, so that what is read back is the same draft to the last bit.
"""

from collections.abc import Iterator
from typing import Any

import msgspec

from trueup.geometry.lines.points import Point
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.cut import Cut, LineEnd, SecondLine
from trueup.geometry.pieces.draft import Draft, Run, Section
from trueup.geometry.pieces.marks.mark import InnerMark
from trueup.geometry.pieces.piece import Piece, Pleat, Vent
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.side import Side

FORM_VERSION = 1


def draft_form(draft: Draft) -> dict[str, Any]:
    """Return a draft as plain lists, texts and numbers."""
    cuts = list(_told_cuts(draft))
    return {
        "form": FORM_VERSION,
        "pieces": [_piece_form(piece) for piece in draft.pieces],
        "seams": [
            {
                "name": seam.name,
                "side": [_run_form(run) for run in seam.side],
                "mate": [_run_form(run) for run in seam.mate],
                **_band_form(seam.allowed),
                **_sections_form(seam.sections),
                **_worn_form(seam.worn),
                **({"open_from": [*seam.open_from]} if seam.open_from else {}),
            }
            for seam in draft.seams
        ],
        "joins": [
            {
                "name": join.name,
                "first": dict(zip(("piece", "edge", "corner"), join.first, strict=True)),
                "second": dict(zip(("piece", "edge", "corner"), join.second, strict=True)),
                "degrees": join.degrees,
                **_worn_form(join.worn),
            }
            for join in draft.joins
        ],
        **({"cuts": [_cut_form(cut) for cut in cuts]} if cuts else {}),
    }


def _told_cuts(draft: Draft) -> Iterator[Cut]:
    """Yield the cuts whose parts are there: one that was joined to another piece since is not."""
    there = {*draft.piece_names}
    told = []
    for cut in reversed(draft.cuts):
        if cut.pieces <= there:
            told.append(cut)
            there.add(cut.whole.name)
    yield from reversed(told)


def _cut_form(cut: Cut) -> dict[str, Any]:
    return {
        "line": cut.line,
        "whole": _piece_form(cut.whole),
        "parts": [*cut.parts],
        "begins": _line_end_form(cut.begins),
        "ends": _line_end_form(cut.ends),
        **_worn_form(cut.worn),
        **({"second": _second_line_form(cut.second)} if cut.second else {}),
    }


def _second_line_form(line: SecondLine) -> dict[str, Any]:
    ends = {"begins": _line_end_form(line.begins), "ends": _line_end_form(line.ends)}
    return {"line": line.line, **ends}


def _line_end_form(end: LineEnd) -> dict[str, Any]:
    return {"edge": end.edge, "dart": end.dart, "setback": end.setback}


def _worn_form(side: Side | None) -> dict[str, str]:
    return {"worn": side.value} if side else {}


def _piece_form(piece: Piece) -> dict[str, Any]:
    grainline = piece.grainline
    return {
        "name": piece.name,
        "edges": [
            {
                "name": edge.name,
                "starts_at": edge.starts_at,
                "ends_at": edge.ends_at,
                "parts": [
                    [[point_form(p) for p in cubic] for cubic in c.cubics] for c in edge.parts
                ],
                "darts": [
                    {
                        "name": dart.name,
                        "apex": point_form(dart.apex),
                        "setback": dart.setback,
                        "turned": dart.turned,
                    }
                    for dart in edge.darts
                ],
                **({"shaped": True} if edge.shaped else {}),
            }
            for edge in piece.edges
        ],
        "inner_darts": [
            {
                "name": dart.name,
                **{at: point_form(getattr(dart, at)) for at in ("upper", "lower", "left", "right")},
            }
            for dart in piece.inner_darts
        ],
        "notches": [
            {
                "name": notch.name,
                "edge": notch.edge,
                **_position_form(notch.at),
            }
            for notch in piece.notches
        ],
        "grainline": [point_form(grainline.start), point_form(grainline.end)]
        if grainline
        else None,
        "fold": piece.fold,
        "levels": [{"name": at.name, "y": at.y, "along": at.along} for at in piece.levels],
        "allowances": dict(piece.allowances),
        **_worn_form(piece.worn),
        **({"pleats": [_pleat_form(pleat) for pleat in piece.pleats]} if piece.pleats else {}),
        **({"vents": [_vent_form(vent) for vent in piece.vents]} if piece.vents else {}),
        **({"marks": [_mark_form(mark) for mark in piece.marks]} if piece.marks else {}),
        **({"label": msgspec.to_builtins(piece.label)} if piece.label else {}),
        **({"corners": msgspec.to_builtins(piece.corners)} if piece.corners else {}),
        **({"free": [*piece.free]} if piece.free else {}),
    }


def _mark_form(mark: InnerMark) -> dict[str, Any]:
    """Return a mark: its place, and its points as seen from there, each [along, inside]."""
    return {
        "name": mark.name,
        "purpose": mark.purpose.value,
        "place": msgspec.to_builtins(mark.place),
        "runs": [[point_form(way) for way in run] for run in mark.runs],
    }


def _pleat_form(pleat: Pleat) -> dict[str, Any]:
    return {
        "name": pleat.name,
        "edge": pleat.edge,
        "at": _position_form(pleat.at),
        "ends": pleat.ends,
        "ends_at": _position_form(pleat.ends_at),
        "depth": pleat.depth,
        "style": pleat.style.value,
        "towards": pleat.towards,
        "stitched": pleat.stitched,
    }


def _vent_form(vent: Vent) -> dict[str, Any]:
    return {
        "name": vent.name,
        "edge": vent.edge,
        "at": _position_form(vent.at),
        "hem": vent.hem,
        "width": vent.width,
        "slope": vent.slope,
        "allowance": vent.allowance,
    }


def _position_form(at: Position) -> dict[str, Any]:
    return {"from": at.corner, "distance": at.distance, "share": at.share}


def _sections_form(sections: tuple[Section, ...]) -> dict[str, Any]:
    """Return what a seam states of its sections; nothing where it states none."""
    if not sections:
        return {}
    forms = [{"name": s.name, "ends_at": [*s.ends_at], **_band_form(s.allowed)} for s in sections]
    return {"sections": forms}


def _band_form(band: Band) -> dict[str, float]:
    return {"ease_low": band.low, "ease_high": band.high, "tolerance": band.tolerance}


def _run_form(run: Run) -> dict[str, Any]:
    return {"piece": run.piece, "edge": run.edge, "backwards": run.backwards}


def point_form(point: Point) -> list[float]:
    """Return a point as two numbers."""
    return [point.real, point.imag]
