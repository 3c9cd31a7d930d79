"""deepen-dart, version 1: the edge was trued over 40 mm beyond the dart only."""

import cmath
import math
from collections.abc import Callable
from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import length, name
from trueup.geometry.changes.parameters import require_one_of
from trueup.geometry.errors import BadParameter, DoesNotFit
from trueup.geometry.lines import fade
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import dot
from trueup.geometry.pieces.dart import InnerDart, Mouth
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Piece
from trueup.geometry.redrawing.darts import (
    SHORTEST_LEG,
    SMALLEST_INTAKE,
    dart_edge_measures,
    find_edge_dart,
    find_inner_dart,
    largest_amount,
    level_measures,
    room_for_tip,
)
from trueup.geometry.redrawing.sound import require_sound
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_POINT

REACH = 40.0
"""The truing runs this far along the edge from the moved mouth point, mm, or to its next end."""

_STEPS = 4


@kind("deepen-dart")
class FirstDeepenDart(Change):
    """Take more in at a dart (`by`; negative lets out), or give it a wanted intake (`to`).

    The apex, the first mouth point and the edge up to it stay. The second mouth point moves along
    its edge so that the intake is exactly as asked and the legs stay equal; the edge is cut back
    to it (or drawn on) and trued over 40 mm so that it runs on without a kink across the closed
    dart. The far end of the edge stays, so the sewn edge falls by the change of intake where the
    dart sits square on its edge, and by a few hundredths less or more where it sits aslant.
    The two mouth points of a double-pointed dart inside a piece move apart by half each.
    """

    phrases = ("deepen the dart", "let out the dart")

    dart: str = name("dart that takes in more, as piece.dart", of="dart")
    by: float | None = length(
        "how much more it takes in; negative lets out", None, low=-300, high=300, zero=False
    )
    to: float | None = length("what its intake shall be", None, low=0, high=600, zero=False)

    def __post_init__(self) -> None:
        require_one_of(self, "by", "to")
        amount = self.by if self.by is not None else self.to
        if amount is None or not math.isfinite(amount):
            raise BadParameter("by" if self.to is None else "to", amount, said("give-length"))

    def carried_out(self, draft: Draft) -> Draft:
        inner = find_inner_dart(draft, self.dart)
        if inner:
            piece, lying = inner
            intake = lying.intake

            def attempt(new: float) -> Piece:
                return _wider(piece, lying, new)
        else:
            piece, edge, mouth = find_edge_dart(draft, self.dart)
            intake = mouth.intake

            def attempt(new: float) -> Piece:
                return self.deeper(piece, edge, mouth, new)

        wanted = self.to if self.to is not None else intake + (self.by or 0.0)
        if abs(wanted - intake) < SAME_POINT:
            return draft
        try:
            return draft.with_pieces(attempt(wanted))
        except DoesNotFit as refused:
            raise self._with_largest(refused, intake, wanted, attempt) from refused

    def _with_largest(
        self,
        refused: DoesNotFit,
        intake: float,
        wanted: float,
        attempt: Callable[[float], Piece],
    ) -> DoesNotFit:
        largest = largest_amount(lambda more: attempt(intake + more), wanted - intake)
        if largest is None:
            possible = said("leave-intake")
        elif self.to is not None:
            more, largest = largest > 0, largest + intake
            possible = said("intake-at-most" if more else "intake-at-least", intake=largest)
        elif largest > 0:
            possible = said("take-in-at-most", by=largest)
        else:
            possible = said("let-out-at-most", by=-largest)
        return DoesNotFit(refused.reason, possible, largest=largest, dart=refused.dart)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return (f"{self.dart}.intake",)

    def knock_on(self, draft: Draft) -> tuple[str, ...]:
        inner = find_inner_dart(draft, self.dart)
        return level_measures(*inner) if inner else dart_edge_measures(draft, self.dart)

    def deeper(self, piece: Piece, edge: Edge, mouth: Mouth, intake: float) -> Piece:
        """Return the piece with the dart's intake made what is asked; raises DoesNotFit."""
        dart, leg = mouth.dart, abs(mouth.first - mouth.dart.apex)
        if intake < SMALLEST_INTAKE:
            raise DoesNotFit(said("nothing-left"))
        if intake >= 2 * leg:
            raise DoesNotFit(said("legs-open-no-wider", leg=leg))
        opening = math.copysign(2 * math.asin(intake / (2 * leg)), -mouth.angle)
        second = dart.apex + (mouth.first - dart.apex) * cmath.rect(1.0, opening)
        if dart.setback > room_for_tip(Mouth(dart, mouth.first, second)):
            raise DoesNotFit(said("mouth-at-tip"))
        index = edge.darts.index(dart)
        cut = edge.parts[index + 1]
        if intake > mouth.intake:
            ray = second - dart.apex
            met = cut.crossings(dart.apex, ray)
            ahead = [at for at in met if dot(cut.point_at(at) - dart.apex, ray) > 0]
            if not ahead or cut.length - ahead[0] < SHORTEST_LEG:
                raise DoesNotFit(said("only-beside", left=cut.length, edge=edge.name))
            cut = cut.between(ahead[0], cut.length)
        leaving = edge.parts[index].end_tangent * cmath.rect(1.0, opening)
        fair = _led_from(cut, second, leaving)
        parts = (*edge.parts[: index + 1], fair, *edge.parts[index + 2 :])
        changed = piece.with_edges(replace(edge, parts=parts))
        require_sound(changed, dart.name)
        return changed


def _led_from(line: Chain, start: complex, leaving: complex) -> Chain:
    """Return a line made to set out from a point in a direction, true to itself beyond REACH.

    Two cubic weights carry the change: one has the value one at the start and no slope, the other
    no value and the slope one; both have neither at the reach (Hermite's pair).
    """
    reach = min(REACH, line.length)
    beyond = line.length - reach
    parted = line.cut_at([reach * k / _STEPS for k in range(1, _STEPS + 1)])
    moved = fade.shifted(parted, start - line.start, fade.falling(0.0, reach))
    reach = moved.length - beyond

    def turning(at: float) -> tuple[float, float]:
        left = max(1 - at / reach, 0.0)
        return at * left * left, left * (1 - 3 * at / reach)

    led = fade.shifted(moved, leaving - moved.start_tangent, turning)
    return led.starting_at(start).ending_at(line.end)


def _wider(piece: Piece, dart: InnerDart, intake: float) -> Piece:
    """Return the piece with the inner dart's intake made what is asked; raises DoesNotFit."""
    if intake < SMALLEST_INTAKE:
        raise DoesNotFit(said("nothing-left"))
    across = dart.right - dart.left
    step = (across / abs(across) if across else 1 + 0j) * (intake - dart.intake) / 2
    wider = replace(dart, left=dart.left - step, right=dart.right + step)
    inner = tuple(wider if d.name == dart.name else d for d in piece.inner_darts)
    changed = replace(piece, inner_darts=inner)
    require_sound(changed, dart.name)
    return changed
