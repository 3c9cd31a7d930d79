"""state-join: say that two lines run on into each other across a seam, or that they need not."""

from dataclasses import replace

from trueup.geometry.changes.base import Change, kind
from trueup.geometry.changes.declaring import flag, name, number
from trueup.geometry.errors import BadParameter, DoesNotFit, NoSuchName
from trueup.geometry.following.sewn_line import corners_met
from trueup.geometry.pieces.draft import Draft, Join
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.position import point_in_words
from trueup.geometry.said import said
from trueup.geometry.units import Unit

_SMOOTH = 180.0


@kind("state-join")
class StateJoin(Change):
    """Say that two lines run on into each other where they meet across a seam.

    So a neck runs on across the shoulder, a hem across the side: `check` then tells of a kink there
    once the seam is sewn. Where a corner is meant, the two angles in it come to other `degrees`
    than 180. A join of the two that is there already is stated anew; `apart` takes it back, where
    they need not run on: at one corner, or wherever they meet. No line moves.
    """

    phrases = ("state how two lines meet",)

    edge: str = name("the one line, such as front.neck", of="edge")
    to: str = name("the line it runs on into, such as back.neck", of="edge")
    at: str | None = name("corner of the one; that where they are sewn together unless given", None)
    meets: str | None = name("corner of the other, where it is called otherwise", None)
    degrees: float = number("what both angles there come to", _SMOOTH, low=1, high=359)
    apart: bool = flag("they need not run on")

    def __post_init__(self) -> None:
        if self.meets and not self.at:
            raise BadParameter("meets", "given without at", said("name-both-corners"))

    def carried_out(self, draft: Draft) -> Draft:
        if self.apart and not self.at:
            places = {draft.split_edge_name(text) for text in (self.edge, self.to)}
            met = [join for join in draft.joins if {join.first[:2], join.second[:2]} == places]
            return self._without(draft, met)
        ends = self._ends(draft)
        met = [join for join in draft.joins if {join.first, join.second} == {*ends}]
        if self.apart:
            return self._without(draft, met)
        kept = tuple(join for join in draft.joins if join not in met)
        called = met[0].name if met else self._called(draft, ends[0])
        join = Join(called, ends[0], ends[1], self.degrees)
        return replace(draft, joins=(*kept, join))

    def _without(self, draft: Draft, met: list[Join]) -> Draft:
        if not met:
            raise DoesNotFit(said("runs-on-nowhere", to=self.to), said("leave-as-is"))
        return replace(draft, joins=tuple(join for join in draft.joins if join not in met))

    def _called(self, draft: Draft, end: tuple[str, str, str]) -> str:
        taken = {join.name for join in draft.joins}
        plain = f"{end[1]}-at-{end[2]}"
        return plain if plain not in taken else f"{end[0]}-{plain}"

    def _ends(self, draft: Draft) -> tuple[tuple[str, str, str], tuple[str, str, str]]:
        places = [draft.split_edge_name(text) for text in (self.edge, self.to)]
        one, other = (draft.edge(*place) for place in places)
        met = (_corner(one, self.at),) if self.at else corners_met(draft, *places)
        if len(met) != 1:
            raise DoesNotFit(said("meet-at-no-one-corner", to=self.to), said("name-both-corners"))
        first = met[0]
        second = _corner(other, self.meets or first)
        if (places[0], first) == (places[1], second):
            raise DoesNotFit(said("sewn-to-itself", line=self.edge), said("name-another-edge"))
        return (*places[0], first), (*places[1], second)

    @property
    def trues(self) -> bool:
        return True

    def same_place(self, other: Change) -> bool:
        return super().same_place(other) and self.at == getattr(other, "at", None)

    def meant(self, draft: Draft) -> tuple[str, ...]:  # noqa: ARG002
        return ()

    def in_words(self, unit: Unit) -> str:  # noqa: ARG002
        side = f" on the {self.side}" if self.side else ""
        where = f" at {point_in_words(self.at)}" if self.at else ""
        if self.apart:
            return f"let {self.edge} and {self.to} part{where}{side}"
        turned = "" if self.degrees == _SMOOTH else f", at {self.degrees:g} degrees"
        return f"run {self.edge} on into {self.to}{where}{turned}{side}"


def _corner(edge: Edge, corner: str) -> str:
    if corner not in (edge.starts_at, edge.ends_at):
        raise NoSuchName("corner", corner, edge.name, (edge.starts_at, edge.ends_at))
    return corner
