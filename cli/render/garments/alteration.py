"""What can be done on a garment's cloth, on the page."""

from collections.abc import Iterator
from dataclasses import dataclass

from rich.console import RenderableType
from rich.text import Text

from trueup.cli.amounts import length
from trueup.cli.command_line import CommandLine
from trueup.cli.page import command, said
from trueup.cli.render.matters import conflict_title
from trueup.cli.render.table import Cell, PlainTable
from trueup.geometry.cloth.cap_answer import CapAnswer, EaseAnswer
from trueup.geometry.cloth.cut_cloth import ClothAnswer, EdgeAnswer, Possible, Reason
from trueup.geometry.cloth.uneven import Uneven
from trueup.geometry.pieces.bodice import SIDE_SEAM
from trueup.geometry.pieces.side import Side, sided, unsided
from trueup.geometry.units import Unit
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.garments.answers import Alteration

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


AS_WANTED = "Its cloth is as the pattern wants it: there is nothing to alter."
AS_IF = "As if the fitting were made; nothing is recorded."


@dataclass(frozen=True)
class EdgeWords:
    """What can be done on an edge, in words: what is asked for, and whether cloth is there."""

    edge: str
    possible: Possible
    asked: str
    cloth: str

    @property
    def can(self) -> str:
        """Return whether it can be done, behind its sign."""
        return _SIGNS[self.possible][0]


def alteration_lines(
    found: Alteration,
    unit: Unit,
    commands: CommandLine,
    *,
    is_preview: bool,
    numbered: bool = False,
) -> Iterator[RenderableType]:
    """Yield what can be done edge by edge, the cap, what stays uneven, and the steps in order.

    Edges are `numbered` as in the picture that stands beside them.
    """
    garment = found.garment
    yield said(title(garment), "bold")
    if is_preview:
        yield said(AS_IF)
    yield from _waiting(found, unit, commands)
    yield from map(said, other_pieces(found))
    if found.stays and not found.uneven:
        yield said(AS_WANTED)
        return
    yield from _pieces(found, unit, numbered=numbered)
    for side, at in found.sides or ((None, found),):
        if at.cap and at.cap.moves:
            yield from _cap(at.cap, at, side, unit)
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


def _waiting(found: Alteration, unit: Unit, commands: CommandLine) -> Iterator[RenderableType]:
    """Yield the open conflicts of the pattern: what is asked of the cloth may still change."""
    if not found.waiting:
        return
    one = len(found.waiting) == 1
    count = "1 decision" if one else f"{len(found.waiting)} decisions"
    pattern = found.garment.pattern
    yield said(f"! {count} about {pattern} {'is' if one else 'are'} open; decide first:", "bold")
    for each in found.waiting:
        yield said(f"{conflict_title(each, unit)} ({each.id})")
    yield command(commands.line("conflicts", pattern))
    yield ""


def title(garment: GarmentRecord) -> str:
    """Return what is told: a garment, what it was cut from, and what it was altered to."""
    says = f"{garment.name}, cut from {garment.pattern}"
    if garment.altered_to:
        says += f", altered to its version {garment.altered_to[:10]}"
    return says


def other_pieces(found: Alteration) -> Iterator[str]:
    """Yield a sentence for each piece that was not cut, or is not wanted any more."""
    for piece in found.not_cut:
        yield f"! {piece} was not cut: the pattern has it since."
    for piece in found.not_wanted:
        yield f"- {piece} was cut and is not in the pattern any more."


def edge_words(found: Alteration, unit: Unit) -> tuple[EdgeWords, ...]:
    """Return what can be done on each edge that does not stay as it was."""
    return tuple(
        _edge(answer, edge, unit)
        for answer in found.pieces
        for edge in answer.edges
        if not edge.stays or edge.possible is not Possible.CAN
    )


def how_laid(found: Alteration, unit: Unit) -> Iterator[str]:
    """Yield which pieces are as they were, and which are laid otherwise on their cloth."""
    still = [answer.piece for answer in found.pieces if answer.stays]
    if still:
        yield f"as it was: {', '.join(still)}"
    for answer in found.pieces:
        if answer.slide:
            yield _slide(answer, unit)


def what_follows(found: Alteration, unit: Unit) -> Iterator[str]:
    """Yield whether the sleeve cap still fits, and what would be left uneven."""
    for side, at in found.sides or ((None, found),):
        if at.cap and at.cap.moves:
            whole, *parts = _cap_eases(at.cap, unit)
            yield f"{_cap_fits(at.cap, side)}: {whole}"
            yield from parts
    for each in found.uneven:
        yield _uneven(each, unit)


def _pieces(found: Alteration, unit: Unit, *, numbered: bool) -> Iterator[RenderableType]:
    edges = enumerate(edge_words(found, unit), start=1)
    rows = [_row(words, f"{count}. " if numbered else "") for count, words in edges]
    if rows:
        yield PlainTable(("edge", "", "asked for", "cloth"), rows)
    yield from map(said, how_laid(found, unit))


def _row(words: EdgeWords, number: str) -> tuple[Cell, ...]:
    return f"{number}{words.edge}", Text(*_SIGNS[words.possible]), words.asked, words.cloth


def _edge(answer: ClothAnswer, edge: EdgeAnswer, unit: Unit) -> EdgeWords:
    asked = [
        f"{what} {length(mm, unit)}"
        for what, mm in zip(
            _ASKED.get(edge.edge, _AT_A_SEAM), (edge.let_out, edge.taken_in), strict=True
        )
        if mm
    ]
    name = f"{answer.piece}.{edge.edge}"
    return EdgeWords(name, edge.possible, ", ".join(asked) or "-", _cloth(edge, unit))


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


def _cap(
    cap: CapAnswer, found: Alteration, side: Side | None, unit: Unit
) -> Iterator[RenderableType]:
    yield ""
    yield said(_cap_fits(cap, side), "bold" if cap.fits else "bold red")
    yield from map(said, _cap_eases(cap, unit))
    if cap.notch is not None:
        way = "back" if cap.notch > 0 else "front"
        moved = length(abs(cap.notch), unit)
        yield said(f"it fits once its crown notch is moved by {moved} towards the {way}")
    grows = f"grows by {length(cap.growth, unit)}"
    if cap.growth < 0:
        grows = f"becomes {length(-cap.growth, unit)} shorter"
    yield said(f"the armhole {grows}; the ease can take up {length(cap.room, unit)} of growth")
    for piece, most in (found.hollowing or {}).items():
        armhole = f"{sided(piece, side)}.armhole"
        yield said(f"by itself, {armhole} could be hollowed {length(most, unit)} at most")


def _cap_fits(cap: CapAnswer, side: Side | None) -> str:
    fits = "still fits" if cap.fits else "does not fit"
    return f"The {f'{side} ' if side else ''}sleeve cap as it was sewn {fits}"


def _cap_eases(cap: CapAnswer, unit: Unit) -> Iterator[str]:
    """Yield the ease of the whole cap and of each part of it."""
    yield _ease(cap, unit)
    for each in cap.sections:
        wrong = "" if each.holds else "! "
        yield f"{wrong}its {each.name} part: {_ease(each, unit)}"


def _ease(answer: EaseAnswer, unit: Unit) -> str:
    ease = f"{length(answer.old_ease, unit)} -> {length(answer.new_ease, unit)}"
    allowed = f"{length(answer.allowed.low, unit)} to {length(answer.allowed.high, unit)}"
    close = ", within tolerance" if answer.allowed.within_tolerance(answer.new_ease) else ""
    return f"ease {ease}, allowed {allowed}{close}"


def _uneven(each: Uneven, unit: Unit) -> str:
    cause = f" for lack of cloth at {each.at}" if each.at else " in the pattern itself"
    says = f"{each.shorter} {length(each.by, unit)} shorter than {each.longer}{cause}"
    if each.with_a_vent:
        return f"~ {says}: can be worn so with a vent"
    if unsided(each.seam).endswith(SIDE_SEAM):
        return f"! {says}: a front that hangs longer than the back shows"
    return f"! {says}"
