"""Make a correction of a check, and try it on a node before it is proposed."""

from collections.abc import Mapping
from dataclasses import dataclass

from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.errors import GeometryError
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.said import Said, parts
from trueup.geometry.sides.naming import names_at
from trueup.geometry.sides.parting import one_side
from trueup.geometry.units import Unit, write_length
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.symptoms.rows import PIECE, Check

Written = Mapping[str, str | bool]


@dataclass(frozen=True)
class Proposed:
    """A correction to try: on which node, of which kind, with its values as a file writes them."""

    node: str
    kind: str
    values: Written


def tried(
    evaluator: Evaluator, check: Check, node: str, piece: str, amount: float | None
) -> tuple[Proposed | None, Said | str]:
    """Return a check's correction on a node when its geometry takes it, or why it does not.

    `piece` is the one complained of, `amount` what was seen there, mm.
    """
    if check.kind is None:
        return None, ""
    draft = evaluator.draft(node)
    obstacle = _dart_elsewhere(check, one_side(draft), node)
    if obstacle:
        return None, obstacle
    known = evaluator.summary(node).measures
    values = _values(check, piece, amount, known.get(names_at(known, check.target)[0]))
    if values is None:
        return None, f"on {node} {check.target} is no more than that already"
    try:
        read_change(kind_named(check.kind), values, Unit.MILLIMETRE).apply(draft)
    except GeometryError as error:
        return None, parts(f"on {node}: ", error.says)
    return Proposed(node, check.kind, values), ""


def amount_of(check: Check, noted: float | None) -> tuple[float | None, bool]:
    """Return the amount to begin with, mm, and whether what was noted was capped.

    Without a note the least typical amount: what is cut away does not come back.
    """
    if not check.typical or not check.factor:
        return None, False
    amount = check.typical[0] if noted is None else noted
    if check.largest is not None and amount > check.largest:
        return check.largest, True
    return amount, False


def _values(
    check: Check, piece: str, amount: float | None, target: float | None
) -> dict[str, str | bool] | None:
    """Return the written values of a check's change; None where nothing is left to change."""
    values = {
        name: value.replace(PIECE, piece) if isinstance(value, str) else value
        for name, value in check.values.items()
    }
    if amount is None:
        return values
    by = check.factor * amount
    if not check.target:
        return {**values, "by": write_length(by)}
    if target is None:
        return None
    wanted = max(target + by, check.least or 0.0)
    return {**values, "to": write_length(round(wanted, 1))} if wanted < target else None


def _dart_elsewhere(check: Check, draft: Draft, node: str) -> str:
    """Return why a check's dart cannot take the fault up on a draft, empty where it can."""
    dart = str(check.values.get("dart", ""))
    if not dart or not (check.on_edge or check.inside):
        return ""
    if dart not in draft.dart_names:
        return f"{node} has no dart {dart}"
    piece_name, _, name = dart.partition(".")
    opens = next(
        (
            f"{piece_name}.{edge.name}"
            for edge in draft.piece(piece_name).edges
            if name in {each.name for each in edge.darts}
        ),
        "",
    )
    if check.inside and opens:
        return f"on {node} {dart} opens on {opens} and does not reach below it"
    if check.on_edge and opens != check.on_edge:
        return (
            f"on {node} {dart} opens on {opens or 'no edge'}: turn it to {check.on_edge} with "
            "rotate-dart first, and back afterwards"
        )
    return ""
