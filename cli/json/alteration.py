"""What can be done on a garment's cloth as JSON: plain values with lengths in mm."""

from trueup.cli.json.forms import Form, mm
from trueup.geometry.cloth.cap_answer import CapAnswer, EaseAnswer
from trueup.geometry.cloth.cut_cloth import ClothAnswer, EdgeAnswer
from trueup.geometry.cloth.sewing_order import SewingStep
from trueup.geometry.cloth.uneven import Uneven
from trueup.lineage.garments.answers import Alteration


def alteration(found: Alteration) -> Form:
    """Return what can be done on a garment, piece by piece, and the steps in sewing order."""
    return {
        "garment": found.garment.name,
        "pattern": found.garment.pattern,
        "cut_from": found.garment.cut_from,
        "altered_to": found.garment.altered_to or None,
        "open_conflicts": [each.id for each in found.waiting],
        "possible": found.possible.value,
        "as_wanted": found.stays,
        "pieces": [_piece(each) for each in found.pieces],
        "cap": _cap(found.cap, found) if found.cap else None,
        "cap_by_side": {side: _cap(at.cap, at) for side, at in found.sides if at.cap},
        "uneven": [_uneven(each) for each in found.uneven],
        "steps": [_step(each) for each in found.steps],
        "not_cut": list(found.not_cut),
        "not_wanted": list(found.not_wanted),
    }


def _piece(answer: ClothAnswer) -> Form:
    return {
        "piece": answer.piece,
        "possible": answer.possible.value,
        "slide_mm": mm(answer.slide),
        "lacking_unless_slid_mm": mm(answer.lacking_in_place),
        "edges": [_edge(answer.piece, each) for each in answer.edges],
    }


def _edge(piece: str, answer: EdgeAnswer) -> Form:
    return {
        "edge": f"{piece}.{answer.edge}",
        "possible": answer.possible.value,
        "reason": answer.reason.value if answer.reason else None,
        "stays": answer.stays,
        "let_out_mm": mm(answer.let_out),
        "taken_in_mm": mm(answer.taken_in),
        "lacking_mm": mm(answer.lacking),
        "measured_from": answer.starts_at,
        "from_mm": mm(answer.low),
        "to_mm": mm(answer.high),
    }


def _cap(cap: CapAnswer, found: Alteration) -> Form:
    return {
        "fits": cap.fits,
        **_ease(cap),
        "sections": [
            {"section": each.name, "holds": each.holds, **_ease(each)} for each in cap.sections
        ],
        "crown_notch_moves_mm": mm(cap.notch),
        "most_hollowing_mm": {n: mm(by) for n, by in (found.hollowing or {}).items()},
    }


def _ease(answer: EaseAnswer) -> Form:
    return {
        "cap_mm": mm(answer.cap),
        "armhole_before_mm": mm(answer.old_armhole),
        "armhole_after_mm": mm(answer.new_armhole),
        "ease_before_mm": mm(answer.old_ease),
        "ease_after_mm": mm(answer.new_ease),
        "allowed_mm": [mm(answer.allowed.low), mm(answer.allowed.high)],
        "room_mm": mm(answer.room),
    }


def _uneven(each: Uneven) -> Form:
    return {
        "seam": each.seam,
        "shorter": each.shorter,
        "longer": each.longer,
        "by_mm": mm(each.by),
        "for_lack_at": each.at or None,
        "with_a_vent": each.with_a_vent,
    }


def _step(step: SewingStep) -> Form:
    return {"work": step.work.value, "places": list(step.places), "says": step.says}
