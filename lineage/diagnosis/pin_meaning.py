"""What a pin stands for on the draft at hand: the rule, the piece or dart, and how much."""

from dataclasses import dataclass

from trueup.geometry.errors import BadParameter, NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.said import said
from trueup.geometry.units import Unit
from trueup.lineage.diagnosis.pin_rules import DART, Rule, concrete, places_of
from trueup.lineage.diagnosis.pinned import How, Pin
from trueup.lineage.errors import CannotStep
from trueup.lineage.symptoms.rows import PIECE


@dataclass(frozen=True)
class WantedByPin:
    """A correction before it is made: the rule, its piece or dart, where, and how much in all."""

    rule: Rule
    name: str
    edge: str
    amount: float
    pins: tuple[Pin, ...]
    at: str = ""


def meaning(draft: Draft, node: str, pin: Pin, unit: Unit) -> WantedByPin:
    """Return the correction a pin asks for; raises NoSuchName, CannotStep."""
    edge = _edge(draft, pin.place)
    dart = pin.place if edge is None else ""
    if pin.place.removesuffix("-dart") in draft.dart_names and pin.place.endswith("-dart"):
        dart = pin.place.removesuffix("-dart")
    rules = {place: (rule, piece) for place, rule, piece in reversed([*concrete(draft, pin.how)])}
    at_the_waist = edge is not None and edge.name == "hem" and edge.darts
    if pin.place in rules and not at_the_waist:
        return _by_rule(*rules[pin.place], edge, pin, unit)
    if pin.how is not How.CHALKED:
        if edge is None and pin.at:
            raise BadParameter(pin.how.value, pin.written, said("no-edge", place=pin.place))
        if edge is not None and edge.darts:
            dart = f"{pin.place.partition('.')[0]}.{_nearest_dart(edge, pin, unit)}"
        if dart in draft.dart_names:
            sign = -1.0 if pin.how is How.LET_OUT else 1.0
            return WantedByPin(DART, dart, _edge_of_dart(draft, dart), sign * pin.amount, (pin,))
    if edge is not None:
        raise CannotStep(node, _no_kind(pin))
    raise NoSuchName(
        "place", pin.place, f"{node} to give as {pin.how.value}", places_of(draft, pin.how)
    )


def _by_rule(rule: Rule, piece: str, edge: Edge | None, pin: Pin, unit: Unit) -> WantedByPin:
    at = ""
    if pin.at:
        if not rule.at or edge is None:
            remedy = said("no-place-along", kind=rule.kind, place=pin.place)
            raise BadParameter(pin.how.value, pin.written, remedy)
        place = pin.position(edge.starts_at, unit)
        if place is not None:
            place.along(edge)
            at = str(place)
    sign = -1.0 if pin.how is How.LET_OUT else 1.0
    shaped = rule.edge.replace(PIECE, piece)
    return WantedByPin(rule, piece, shaped, sign * pin.amount, (pin,), at)


def _no_kind(pin: Pin) -> str:
    if pin.how is How.CHALKED:
        return (
            f"no kind of change stands for a line chalked at {pin.place}; redraw it with "
            "redraw-edge"
        )
    instead = (
        f"turn a dart to {pin.place} with rotate-dart first, or, where it is to be hollowed, chalk "
        "the new line and give that"
        if pin.place.endswith((".armhole", ".neck"))
        else "take it up at the side or in a dart"
    )
    return (
        f"no dart opens on {pin.place} that could take up what was {pin.how.value} there; {instead}"
    )


def _edge(draft: Draft, place: str) -> Edge | None:
    if place not in draft.edge_names:
        return None
    return draft.edge(*draft.split_edge_name(place))


def _edge_of_dart(draft: Draft, dart: str) -> str:
    """Return the edge a dart opens on; for one inside its piece the hem, which lies below it."""
    piece, _, name = dart.partition(".")
    for edge in draft.piece(piece).edges:
        if name in {each.name for each in edge.darts}:
            return f"{piece}.{edge.name}"
    return f"{piece}.hem"


def _nearest_dart(edge: Edge, pin: Pin, unit: Unit) -> str:
    """Return the dart of an edge nearest to a fold, by the sewn edge; several want a place."""
    names = " and ".join(dart.name for dart in edge.darts)
    place = pin.position(edge.starts_at, unit)
    if place is None and len(edge.darts) == 1:
        return names
    if place is None:
        remedy = said("several-darts", place=pin.place, darts=names)
        raise BadParameter(pin.how.value, pin.written, remedy)
    at, sewn, reached = place.along(edge), {}, 0.0
    for part, dart in zip(edge.parts, edge.darts, strict=False):
        reached += part.length
        sewn[dart.name] = abs(reached - at)
    return min(sewn, key=lambda name: sewn[name])
