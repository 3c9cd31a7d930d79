"""What can be done on a garment's cloth, on the page."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from cli.command_line import CommandLine
from cli.render.amounts import length
from cli.render.page import command, said
from cli.render.table import Cell, PlainTable
from geometry.cap_answer import CapAnswer
from geometry.cut_cloth import ClothAnswer, EdgeAnswer, Possible, Reason
from geometry.uneven import SIDE_SEAM, Uneven
from geometry.units import Unit
from lineage.garments.alteration import Alteration

_SIGNS = {
    Possible.CAN: ("+ can", "green"),
    Possible.PARTLY: ("~ partly", "yellow"),
    Possible.CANNOT: ("! cannot", "bold red"),
}

_AT_A_SEAM = ("let out", "take in")
_ASKED = {
    "neck": ("let out", "cut away"),
    "armhole": ("let out", "cut away"),
    "cap": ("let out", "cut away"),
    "hem": ("let down", "take up"),
}
"""What is asked for outwards and inwards; at an opening no seam takes the cloth in (trade use)."""


def alteration_lines(
    found: Alteration, unit: Unit, commands: CommandLine, *, is_preview: bool
) -> Iterator[RenderableType]:
    """Yield what can be done edge by edge, the cap, what stays uneven, and the steps in order."""
    garment = found.garment
    yield said(f"{garment.name}, cut from {garment.pattern}", "bold")
    if is_preview:
        yield said("As if the fitting were made; nothing is recorded.")
    yield from _other_pieces(found)
    if found.stays and not found.uneven:
        yield said("Its cloth is as the pattern wants it: there is nothing to alter.")
        return
    yield from _pieces(found, unit)
    if found.cap and abs(found.cap.growth) > 0.05:
        yield from _cap(found.cap, found, unit)
    if found.uneven:
        yield ""
        yield said("What would be left uneven", "bold")
        for each in found.uneven:
            yield said(_uneven(each, unit))
    if found.steps:
        yield ""
        yield said("In sewing order", "bold")
        for number, step in enumerate(found.steps, start=1):
            yield said(f"{number}. {step.says}")
        if not is_preview:
            yield ""
            yield said("When it is done, say so:")
            yield command(commands.line("garment", garment.name, "--status", "altered"))


def _other_pieces(found: Alteration) -> Iterator[RenderableType]:
    for piece in found.not_cut:
        yield said(f"! {piece} was not cut: the pattern has it since.")
    for piece in found.not_wanted:
        yield said(f"- {piece} was cut and is not in the pattern any more.")


def _pieces(found: Alteration, unit: Unit) -> Iterator[RenderableType]:
    rows = [
        _row(answer, edge, unit)
        for answer in found.pieces
        for edge in answer.edges
        if not edge.stays or edge.possible is not Possible.CAN
    ]
    if rows:
        yield PlainTable(("edge", "", "asked for", "cloth"), rows)
    still = [answer.piece for answer in found.pieces if answer.stays]
    if still:
        yield said(f"as it was: {', '.join(still)}")
    for answer in found.pieces:
        if answer.slide:
            yield said(_slide(answer, unit))


def _row(answer: ClothAnswer, edge: EdgeAnswer, unit: Unit) -> tuple[Cell, ...]:
    words, style = _SIGNS[edge.possible]
    asked = [
        f"{what} {length(mm, unit)}"
        for what, mm in zip(
            _ASKED.get(edge.edge, _AT_A_SEAM), (edge.let_out, edge.taken_in), strict=True
        )
        if mm
    ]
    name = f"{answer.piece}.{edge.edge}"
    return name, Text(words, style), ", ".join(asked) or "-", _cloth(edge, unit)


def _cloth(edge: EdgeAnswer, unit: Unit) -> str:
    match edge.reason:
        case None:
            return "enough"
        case Reason.STITCHED_DOWN:
            return "it is stitched down"
        case Reason.FOLD:
            return "it lies on the fold"
    where = f"{length(edge.low, unit)} to {length(edge.high, unit)} from {edge.starts_at}"
    return f"lacks {length(edge.lacking, unit)} at worst, {where}"


def _slide(answer: ClothAnswer, unit: Unit) -> str:
    way = "lower" if answer.slide > 0 else "higher"
    amount, lacking = length(abs(answer.slide), unit), length(answer.lacking_in_place, unit)
    return (
        f"{answer.piece} is laid {amount} {way} on its cloth, all its seams and darts with it; in "
        f"place it would lack {lacking}."
    )


def _cap(cap: CapAnswer, found: Alteration, unit: Unit) -> Iterator[RenderableType]:
    yield ""
    fits = "still fits" if cap.fits else "does not fit"
    yield said(f"The sleeve cap as it was sewn {fits}", "bold" if cap.fits else "bold red")
    ease = f"{length(cap.old_ease, unit)} -> {length(cap.new_ease, unit)}"
    allowed = f"{length(cap.low, unit)} to {length(cap.high, unit)}"
    yield said(f"ease {ease}, allowed {allowed}")
    grows = f"grows by {length(cap.growth, unit)}"
    if cap.growth < 0:
        grows = f"becomes {length(-cap.growth, unit)} shorter"
    yield said(f"the armhole {grows}; the ease can take up {length(cap.room, unit)} of growth")
    for piece, most in (found.hollowing or {}).items():
        yield said(f"by itself, {piece}.armhole could be hollowed {length(most, unit)} at most")


def _uneven(each: Uneven, unit: Unit) -> str:
    cause = f" for lack of cloth at {each.at}" if each.at else " in the pattern itself"
    says = f"{each.shorter} {length(each.by, unit)} shorter than {each.longer}{cause}"
    if each.with_a_vent:
        return f"~ {says}: can be worn so with a vent"
    if each.seam == SIDE_SEAM:
        return f"! {says}: a front that hangs longer than the back shows"
    return f"! {says}"
