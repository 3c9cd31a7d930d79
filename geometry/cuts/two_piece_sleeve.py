"""Cut a sleeve into an upper and an under sleeve, along a fore-arm and a hind-arm seam.

Folded so that the seam under the arm lies at the middle of its under side, a sleeve has a fold in
front and one behind, each a quarter of the way round. Both seams lie beside these folds, towards
the under side. At the elbow they are bent back, and the sleeve with them. Lengths in mm.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from trueup.geometry.cuts.cutting import with_cut_at
from trueup.geometry.cuts.sewing import in_parts
from trueup.geometry.cuts.two_cut.two_lines import Parting
from trueup.geometry.cuts.two_cut.two_parts import two_parts
from trueup.geometry.errors import DoesNotFit
from trueup.geometry.kept import kept
from trueup.geometry.lines.bisection import root_between
from trueup.geometry.lines.chain import Chain
from trueup.geometry.lines.points import Point, dot, unit
from trueup.geometry.pieces.band import Band
from trueup.geometry.pieces.cut import Cut, LineEnd, SecondLine
from trueup.geometry.pieces.draft import EVEN, Draft, Join, Run, Seam, Section
from trueup.geometry.pieces.edge import Edge
from trueup.geometry.pieces.piece import Notch, Piece
from trueup.geometry.pieces.position import Position
from trueup.geometry.pieces.sleeve_cap import crown
from trueup.geometry.redrawing.sleeves.puffed import swelling
from trueup.geometry.redrawing.trued_dart import displaced
from trueup.geometry.said import said
from trueup.geometry.tolerance import SAME_LENGTH

CAP, HEM, ELBOW = "cap", "hem", "elbow"
FORE_ARM, HIND_ARM = "fore-arm", "hind-arm"
ABOVE, BELOW = "above-elbow", "below-elbow"
_ROUND_ELBOW = 70.0
"""The hind-arm seam is notched so far from the elbow: between lies its ease (no source)."""

_AS_IT_COMES = 0.5

_LEGS = 0.3
_NARROWEST = 20.0
"""So much of the under sleeve lies to each side of where the seam under the arm was, at least."""


@dataclass(frozen=True)
class TwoPieces:
    """How a sleeve is cut in two: how far its seams lie from the folds towards the under side.

    They are bent back by `bend` at the elbow; the upper sleeve is longer there behind by `ease`, or
    as it comes where the seam is bent by half as much again there, and by half on the under sleeve.
    """

    sleeve: Piece
    front: float
    back: float
    bend: float
    ease: float | None

    @property
    def _cap(self) -> Chain:
        return self.sleeve.edge(CAP).parts[0]

    @kept
    def lines(self) -> tuple[Chain, Chain]:
        """Return both lines straight from the cap to the hem; raises DoesNotFit."""
        cap, hem = self._cap, self.sleeve.edge(HEM)
        top = crown(cap)
        across = unit(cap.end - cap.start)
        wide = top.before + top.after
        found = []
        for half, aside, name in (
            (top.before, self.front, FORE_ARM),
            (top.after, self.back, HIND_ARM),
        ):
            in_front = name == FORE_ARM
            low = half / wide * hem.length / 2 - aside
            left = min(half / 2 - aside, low)
            if left < _NARROWEST:
                reason = said("under-sleeve-narrow", line=name, left=left)
                possible = said("seam-aside-at-most", most=aside + left - _NARROWEST)
                raise DoesNotFit(reason, possible, piece=self.sleeve.name, edge=CAP)
            out = half / 2 - aside
            above = cap.start + across * out if in_front else cap.end - across * out
            below = hem.point_at(hem.length - low if in_front else low)
            found.append(self._from_cap(above, below, name))
        return found[0], found[1]

    def _from_cap(self, above: Point, below: Point, name: str) -> Chain:
        """Return the line up from the hem through a place of the cap line, to the cap."""
        up = unit(above - below)
        met = [
            at
            for at in self._cap.crossings(below, up)
            if dot(self._cap.point_at(at) - above, up) > 0
        ]
        if not met:
            reason = said("line-misses-cap", line=name)
            raise DoesNotFit(reason, said("seam-elsewhere"), piece=self.sleeve.name, edge=CAP)
        at = min(met) if name == FORE_ARM else max(met)
        return Chain.line(self._cap.point_at(at), below)

    def elbow(self, line: Chain) -> float:
        """Return how far down a line the elbow lies; raises DoesNotFit."""
        if not self.sleeve.has_level(ELBOW):
            no_level = said("no-such-level", piece=self.sleeve.name, level=ELBOW)
            raise DoesNotFit(no_level, said("leave-bend-out"))
        met = line.crossings(complex(0, self.sleeve.level(ELBOW).y), 1 + 0j)
        if not met or not _ROUND_ELBOW < met[0] < line.length - _ROUND_ELBOW:
            reason = said("elbow-near-end", near=_ROUND_ELBOW)
            raise DoesNotFit(reason, said("leave-bend-out"), piece=self.sleeve.name)
        return met[0]

    def _above(self, line: Chain) -> float:
        """Return how far a line runs above the cap line, mm."""
        cap = self._cap
        return line.crossings(cap.start, cap.end - cap.start)[0]

    @property
    def _backwards(self) -> complex:
        return unit(self._cap.end - self._cap.start)

    def drawn(self) -> tuple[tuple[Chain, Chain], tuple[Chain, Chain]]:
        """Return both lines as the under and as the upper sleeve has them; raises DoesNotFit."""
        if not self._is_bent:
            return self.lines, self.lines
        front, back = self.lines
        more = self._more()
        return (
            (self._bent(front, -self.bend), self._bent(back, more - self.bend)),
            (self._bent(front, self.bend), self._bent(back, self.bend + more)),
        )

    def _bent(self, line: Chain, by: float) -> Chain:
        if not by:
            return line
        # Both begin to bend on one level, where the lower of them meets the cap.
        at, low = self.elbow(line), self._above(line) - min(map(self._above, self.lines))
        field = swelling((low, line.length), at, self._backwards * by)
        return displaced(line.cut_at([low, at]), field)

    @property
    def _is_bent(self) -> bool:
        return bool(self.bend or self.ease)

    def _more(self) -> float:
        """Return how much farther back the upper sleeve is bent behind, and the under one less.

        So the one grows longer there than the other by the ease, and the sleeve no wider.
        """
        ease = self.ease
        if ease is None:
            return _AS_IT_COMES * self.bend
        if not ease:
            return 0.0
        most = self._longer(self.bend)
        if most < ease:
            reason = said("hind-arm-ease", ease=ease, bend=self.bend)
            possible = said("hind-arm-ease-most", most=most)
            raise DoesNotFit(reason, possible, piece=self.sleeve.name)
        found = root_between(lambda by: self._longer(by) - ease, 0.0, self.bend, SAME_LENGTH)
        assert found is not None
        return found

    def _longer(self, more: float) -> float:
        """Return how much longer the upper sleeve is behind where it is bent by so much more."""
        outer, inner = (self._bent(self.lines[1], self.bend + by) for by in (more, -more))
        return outer.length - inner.length

    def cut(self, draft: Draft, names: tuple[str, str]) -> Draft:
        """Return a draft with the sleeve cut; `names` are those of the upper and under sleeve."""
        lines = self.lines
        whole = self.sleeve
        for line, name in zip(lines, (FORE_ARM, HIND_ARM), strict=True):
            for edge, way in ((CAP, line), (HEM, line.reversed())):
                whole = _opened(whole, edge, f"{name}-{edge}", way)
        upper, under = names
        ends = [
            (LineEnd(CAP, f"{name}-{CAP}"), LineEnd(HEM, f"{name}-{HEM}"))
            for name in (HIND_ARM, FORE_ARM)
        ]
        second = SecondLine(FORE_ARM, *ends[1])
        cut = Cut(HIND_ARM, whole, (under, upper), *ends[0], whole.worn, second)
        beyond, between = two_parts(Parting(cut, whole), *self.drawn())
        parts = self._notched(beyond), self._notched(between)
        return in_parts(
            _without_own_seam(draft.with_pieces(whole), whole),
            cut,
            parts,
            self._seams(cut),
            joins(cut),
        )

    def _notched(self, part: Piece) -> Piece:
        """Return a part notched on its lines: at the elbow in front, above and below it behind."""
        if not self._is_bent:
            return part
        front, back = self.lines
        below = back.length - self.elbow(back) - _ROUND_ELBOW
        above = Position(f"{HIND_ARM}-{CAP}", distance=self.elbow(back) - _ROUND_ELBOW)
        fore = Position(f"{FORE_ARM}-{CAP}", share=round(self.elbow(front) / front.length, 6))
        return part.with_notches(
            Notch(ELBOW, FORE_ARM, fore),
            Notch(ABOVE, HIND_ARM, above),
            Notch(BELOW, HIND_ARM, Position(f"{HIND_ARM}-{HEM}", distance=below)),
        )

    def _seams(self, cut: Cut) -> tuple[Seam, Seam]:
        under, upper = cut.parts
        hind, fore = cut.seam_names
        ease = self._longer(self._more()) if self._is_bent else 0.0
        allowed = Band(0.0, 2 * ease, EVEN.tolerance)
        sections = (
            Section(ABOVE, EVEN, (ABOVE, ABOVE)),
            Section(ELBOW, allowed, (BELOW, BELOW)),
            Section(BELOW, EVEN),
        )
        return (
            Seam(
                hind,
                (Run(upper, HIND_ARM),),
                (Run(under, HIND_ARM, backwards=True),),
                allowed,
                sections if ease > SAME_LENGTH else (),
                cut.worn,
            ),
            Seam(
                fore,
                (Run(upper, FORE_ARM, backwards=True),),
                (Run(under, FORE_ARM),),
                worn=cut.worn,
            ),
        )


def joins(cut: Cut) -> Iterator[Join]:
    """Yield what should run on smoothly across both lines, at the cap and at the hem."""
    under, upper = cut.parts
    beside = {FORE_ARM: cut.beside[0], HIND_ARM: cut.beside[1]}
    names = iter(cut.join_names)
    for line in (HIND_ARM, FORE_ARM):
        for edge, beyond in ((CAP, beside[line]), (HEM, HEM)):
            corner = f"{line}-{edge}"
            first, second = (upper, edge, corner), (under, beyond, corner)
            yield Join(next(names), first, second, worn=cut.worn)


def _opened(piece: Piece, edge: str, dart: str, line: Chain) -> Piece:
    """Return a piece with a dart of no intake where a line sets out from an edge."""
    old = piece.edge(edge)
    along, done = 0.0, 0.0
    for part in old.parts:
        at = float(part.nearest(line.start))
        if abs(part.point_at(at) - line.start) < SAME_LENGTH * 10:
            along = done + at
            break
        done += part.length
    opened = piece.with_edges(with_cut_at(old, dart, along))
    mouth = opened.mouth(dart)
    return opened.with_dart(replace(mouth.dart, apex=line.point_at(_LEGS * line.length)))


def own_seams(sleeve: Piece) -> tuple[Edge, Edge]:
    """Return the two edges of a sleeve that are sewn to each other under the arm."""
    return sleeve.neighbours(CAP)


def _without_own_seam(draft: Draft, sleeve: Piece) -> Draft:
    """Return a draft without the seam under the arm, and without what was to run on across it."""
    edges = {f"{sleeve.name}.{edge.name}" for edge in own_seams(sleeve)}
    corners = {corner for edge in own_seams(sleeve) for corner in (edge.starts_at, edge.ends_at)}
    return replace(
        draft,
        seams=tuple(s for s in draft.seams if not edges.intersection(map(str, s.runs))),
        joins=tuple(
            join
            for join in draft.joins
            if not any(
                piece == sleeve.name and corner in corners
                for piece, _, corner in (join.first, join.second)
            )
        ),
    )
