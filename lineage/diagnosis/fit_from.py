"""From amounts pinned, let out and chalked on a garment to the corrections they stand for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import tomlkit

from trueup.geometry.changes import Change, kind_named, read_change, write_change
from trueup.geometry.errors import BadParameter, CannotChange, NoSuchName
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import Side, side_of, unsided
from trueup.geometry.said import said
from trueup.geometry.sides.naming import names_at, read_at
from trueup.geometry.sides.parting import one_side
from trueup.geometry.sides.telling import told_of
from trueup.geometry.units import Unit, write_length
from trueup.lineage.diagnosis.pin_meaning import WantedByPin, meaning
from trueup.lineage.diagnosis.pin_rules import RULES
from trueup.lineage.diagnosis.pinned import How, Pin
from trueup.lineage.diagnosis.readings import root_of, ways_up
from trueup.lineage.errors import CannotStep
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.origin import Origin, origin
from trueup.lineage.symptoms.rows import PIECE

BLOCK = "block"
"""Stands for the drafted block the pinned pieces come from."""

_SAME = 1e-6
_DECIMALS = 3  # of a mm, in a measure that is aimed at


@dataclass(frozen=True)
class MeasureEffect:
    """What a correction does to one measure, mm."""

    measure: str
    before_mm: float
    after_mm: float


@dataclass(frozen=True)
class PinnedCorrection:
    """A correction of a fitting: its change, the pins it comes from, why, and what it does.

    `effects` are measured with the corrections before it made. `origin` says where the edge
    concerned got its shape, None where the pattern pinned does not have it; `is_above` whether
    that lies above the node corrected.
    """

    change: Change
    pins: tuple[Pin, ...]
    reason: str
    effects: tuple[MeasureEffect, ...]
    origin: Origin | None
    is_above: bool

    @property
    def values(self) -> dict[str, str | bool]:
        """Return the parameters of the change as a file holds them."""
        return write_change(self.change)


@dataclass(frozen=True)
class Fit:
    """Corrections for the `node`, from what was pinned on a garment of the `pattern`."""

    pattern: str
    node: str
    corrections: tuple[PinnedCorrection, ...]
    why: str

    @property
    def text(self) -> str:
        """Return the fitting as a file that `correct NODE --from FILE` takes."""
        document = tomlkit.document()
        document["why"] = self.why
        tables = tomlkit.aot()
        for each in self.corrections:
            tables.append(tomlkit.item({"kind": each.change.kind, **each.values}))
        document["corrections"] = tables
        return tomlkit.dumps(document)


def fit_from(
    evaluator: Evaluator, pattern: str, pins: Sequence[Pin], on: str | None = None, why: str = ""
) -> Fit:
    """Return the corrections that pins on a garment of a pattern stand for, in fitting order.

    They are worked out on the pattern, or on the node `on` it takes the pinned pieces from;
    `block` is the drafted one. Raises NoSuchNode; NoSuchName for a place or node that is not
    there; BadParameter for amounts that contradict each other; CannotStep where no kind of change
    does it or the geometry cannot take it.
    """
    state = evaluator.state
    state.node(pattern)
    if not pins:
        raise BadParameter("pinned", "nothing", said("give-place"))
    node = _node(evaluator, pattern, pins, on)
    draft = evaluator.draft(node)
    side = _side(evaluator, pattern, pins)
    shared = [replace(pin, place=unsided(pin.place)) if side else pin for pin in pins]
    half = one_side(draft, side)
    wanted = _joined([meaning(half, node, pin, state.unit) for pin in shared])
    corrections = []
    for each in wanted:
        values = _values(each, measures(one_side(draft, side)))
        values |= {"side": side} if side else {}
        change = read_change(kind_named(each.rule.kind), values, Unit.MILLIMETRE)
        try:
            after = change.apply(draft)
        except CannotChange as error:
            raise CannotStep(node, error.says) from error
        shaped = _origin(evaluator, pattern, each.edge)
        above = ways_up(evaluator, node, each.edge.partition(".")[0])
        corrections.append(
            PinnedCorrection(
                change,
                each.pins,
                _reason(each),
                _effects(change, draft, after),
                shaped,
                shaped is not None and shaped.node != node and shaped.node in above,
            )
        )
        draft = after
    told = "; ".join(pin.said(state.unit) for pin in pins)
    return Fit(pattern, node, tuple(corrections), why or f"on a garment of {pattern}: {told}")


# --- where ----------------------------------------------------------------------------------------


def _node(evaluator: Evaluator, pattern: str, pins: Sequence[Pin], on: str | None) -> str:
    """Return the node to correct; every pinned piece has to reach the pattern from it."""
    if on is None or on == pattern:
        return pattern
    pieces = dict.fromkeys(_piece(evaluator, pattern, pin) for pin in pins)
    if on == BLOCK and on not in evaluator.state.nodes:
        blocks = dict.fromkeys(root_of(evaluator, pattern, piece)[1] for piece in pieces)
        if len(blocks) > 1:
            remedy = said("several-blocks", blocks=" and ".join(blocks))
            raise BadParameter("on", on, remedy)
        (on,) = blocks
    evaluator.state.node(on)
    for piece in pieces:
        above = tuple(ways_up(evaluator, pattern, piece))
        if on not in above:
            raise NoSuchName("node", on, f"those that give {pattern} its {piece}", above)
    return on


def _side(evaluator: Evaluator, pattern: str, pins: Sequence[Pin]) -> Side | None:
    """Return the side of the body all pins are on; None where they are given for both alike."""
    apart = {each.name for each in evaluator.draft(pattern).pieces if each.worn}
    sides = {side_of(p.place) if p.place.partition(".")[0] in apart else None for p in pins}
    if len(sides) > 1:
        raise BadParameter("pinned", "on several sides", said("one-side"))
    return next(iter(sides), None)


def _piece(evaluator: Evaluator, pattern: str, pin: Pin) -> str:
    pieces = evaluator.summary(pattern).told_of
    named = pin.place.partition(".")[0]
    if named in pieces or named in map(unsided, pieces):
        return named
    on_sleeve = pin.place in {
        place for rule in RULES if rule.pieces == ("sleeve",) for place in rule.places
    }
    return "sleeve" if on_sleeve and "sleeve" in pieces else pieces[0]


def _origin(evaluator: Evaluator, pattern: str, edge: str) -> Origin | None:
    draft = evaluator.draft(pattern)
    there = names_at(draft.edge_names, edge)[0]
    if there not in draft.edge_names:
        return None
    return origin(evaluator, pattern, *draft.split_edge_name(there))


# --- how much -------------------------------------------------------------------------------------


def _joined(wanted: Sequence[WantedByPin]) -> list[WantedByPin]:
    """Return one correction for those that ask for the same, in the order of fitting.

    What front and back share is said once or alike on both; folds into one dart add up.
    """
    found: list[WantedByPin] = []
    for each in wanted:
        same = next((other for other in found if _key(other) == _key(each)), None)
        if same is None:
            found.append(each)
            continue
        index = found.index(same)
        if not each.rule.alike:
            joined = replace(same, amount=same.amount + each.amount, pins=(*same.pins, *each.pins))
        elif _amounts(same) == _amounts(each):
            joined = replace(same, pins=(*same.pins, *each.pins))
        else:
            written = " and ".join(pin.written for pin in (*same.pins, *each.pins))
            remedy = said("one-of-two", kind=each.rule.kind)
            raise BadParameter(each.pins[0].how.value, written, remedy)
        found[index] = joined
    return sorted(found, key=lambda each: RULES.index(each.rule))


def _key(wanted: WantedByPin) -> tuple[object, ...]:
    """Return what two pins share that ask for one and the same correction."""
    rule = wanted.rule
    if rule.alike:
        return rule.kind, tuple(name for name, factor in rule.factors.items() if factor)
    return rule.kind, wanted.name, wanted.at


def _amounts(wanted: WantedByPin) -> Mapping[str, float]:
    return {name: round(factor * wanted.amount, 6) for name, factor in wanted.rule.factors.items()}


def _reason(wanted: WantedByPin) -> str:
    is_let_out = all(pin.how is How.LET_OUT for pin in wanted.pins)
    return f"{'the reverse of pinning it: ' if is_let_out else ''}{wanted.rule.reason}"


def _values(wanted: WantedByPin, standing: Mapping[str, float]) -> dict[str, str | bool]:
    """Return the written values of a correction, `standing` being the measures before it."""
    rule = wanted.rule
    values = {
        name: value.replace(PIECE, wanted.name) if isinstance(value, str) else value
        for name, value in rule.values.items()
    }
    before = standing.get(rule.target, 0.0) if rule.target else 0.0
    for name, factor in rule.factors.items():
        amount = before + factor * wanted.amount
        values[name] = write_length(round(amount, _DECIMALS) if rule.target else amount)
    return {**values, rule.at: wanted.at} if wanted.at else values


def _effects(change: Change, before: Draft, after: Draft) -> tuple[MeasureEffect, ...]:
    old, new = measures(before), measures(after)
    reads = (change.meant, change.knock_on)
    names = [name for read in reads for name in told_of(read, before, change.side)]
    read = ((n, read_at(old, n), read_at(new, n)) for n in dict.fromkeys(names))
    return tuple(
        MeasureEffect(name, was, now)
        for name, was, now in read
        if was is not None and now is not None and abs(was - now) > _SAME
    )
