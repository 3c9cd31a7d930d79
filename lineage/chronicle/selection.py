"""Which entries of the history a maker asks about: a node, an edge, a garment, a wearer."""

from collections.abc import Callable, Sequence
from difflib import get_close_matches
from itertools import chain

from msgspec import Struct

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.side import unsided
from trueup.lineage.bodies.following import following, garments_of_body
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.errors import NoSuchSubject, NoSuchWearer
from trueup.lineage.errors import UnknownRevision, WardrobeError
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.grafting import content
from trueup.lineage.files import graph
from trueup.lineage.files.bodies.naming import called
from trueup.lineage.files.bodies.records import BodyRecord
from trueup.lineage.files.garment_records import GarmentRecord
from trueup.lineage.files.records import NodeRecord, ParentRecord
from trueup.lineage.files.state import State
from trueup.lineage.opened import OpenWardrobe


def _everything(_: Entry) -> bool:
    return True


class Part(Struct, frozen=True):
    """Commits that touched one of some files, without those up to the versions `beyond`."""

    paths: tuple[str, ...]
    beyond: tuple[str, ...] = ()


class Selection(Struct, frozen=True):
    """Entries by the files their commits touched, and among these the ones that `keeps` keeps.

    It is `is_measured` where each entry has to be measured to tell if it is one of them.
    """

    parts: tuple[Part, ...]
    keeps: Callable[[Entry], bool] = _everything
    is_measured: bool = False

    @property
    def only_paths(self) -> tuple[str, ...] | None:
        """Return the files, where these say which commits; None where more has to be looked up."""
        return self.parts[0].paths if len(self.parts) == 1 and not self.parts[0].beyond else None

    def commits(self, wardrobe: OpenWardrobe, until: str) -> frozenset[str]:
        """Return the ids of the commits in all its parts."""
        found = (
            wardrobe.history(part.paths, until=until, beyond=part.beyond) for part in self.parts
        )
        return frozenset(commit.id for commit in chain.from_iterable(found))


def of_node(node: NodeRecord) -> Selection:
    """Select what touched a node's own file."""
    return Selection((Part((node.path,)),))


def of_chain(wardrobe: OpenWardrobe, evaluator: Evaluator, node: NodeRecord) -> Selection:
    """Select what touched a node's own file and, of a graft, what was changed of its style since.

    Of a size that takes corrections, these. What lies above the style counts as far as the graft
    takes it over, whatever else was done there.
    """
    if node.style is None:
        return of_node(node)
    own = [commit.id for commit in wardrobe.history((node.path,))]
    style = node.style
    there = evaluator.followed(ParentRecord(style.name, None, style.hold)).state
    above = Part(paths_above(there, style.name), tuple(own[-1:]))
    return Selection((Part((node.path,)), above), _changes_taken(node.name, frozenset(own)))


def _changes_taken(name: str, own: frozenset[str]) -> Callable[[Entry], bool]:
    """Return what keeps a node's own entries, and those that changed the steps it takes over."""

    def keeps(entry: Entry) -> bool:
        if entry.commit.id in own:
            return True
        if entry.is_join or entry.before is None:
            return False
        try:
            return _taken(entry.before, name) != _taken(entry.after, name)
        except WardrobeError:
            return False  # a version that cannot be read takes nothing over

    return keeps


def _taken(evaluator: Evaluator, name: str) -> object:
    taken = evaluator.taken(name) if evaluator.state.has(name) else None
    return taken and content(taken)


def of_edge(evaluator: Evaluator, node: str, full_name: str) -> Selection:
    """Select what gave an edge of a node its shape or another one, there or at a node above it.

    Shapes are compared up to turning and shifting the edge bodily; before the node was derived,
    that of the node above it counts. Raises NoSuchNode, NoSuchName.
    """
    piece, edge = evaluator.draft(node).split_edge_name(full_name)
    way = _way_up(evaluator, node, piece)
    reshaped = _reshaping(lambda _: way, piece, edge)
    return Selection((Part(paths_above(evaluator.state, node)),), reshaped, is_measured=True)


def of_edge_anywhere(evaluator: Evaluator, full_name: str) -> Selection:
    """Select what gave an edge another shape at the node it was made on; raises NoSuchName."""
    roots = [name for name, node in evaluator.state.nodes.items() if not node.parents]
    known = [edge for root in roots for edge in _edges(evaluator, root)]
    others = (name for name in evaluator.state.nodes if name not in roots)
    # A pattern may have pieces of its own: those one of its pieces was cut into, a collar.
    if full_name not in known and not any(full_name in _edges(evaluator, name) for name in others):
        where = "any block or pattern"
        raise NoSuchName("edge", full_name, where, tuple(dict.fromkeys(known)))
    piece, _, edge = full_name.partition(".")
    reshaped = _reshaping(_own_way_up, piece, edge)
    return Selection((Part(("blocks", "patterns")),), reshaped, is_measured=True)


def _edges(evaluator: Evaluator, node: str) -> Sequence[str]:
    """Return the edges of a node; none of one that cannot be drafted."""
    try:
        return evaluator.draft(node).edge_names
    except WardrobeError:
        return ()


def _own_way_up(entry: Entry) -> tuple[str, ...]:
    """Return the node of an entry and its parents, whose shape it had before it was derived."""
    node = entry.after.state.nodes.get(entry.node)
    return (entry.node, *(parent.name for parent in node.parents)) if node else (entry.node,)


def _reshaping(
    nodes: Callable[[Entry], Sequence[str]], piece: str, edge: str
) -> Callable[[Entry], bool]:
    def reshaped(entry: Entry) -> bool:
        if entry.is_join:
            return False
        try:
            before = _shape(entry.before, nodes(entry), piece, edge)
            return before != _shape(entry.after, nodes(entry), piece, edge)
        except WardrobeError:
            return False  # a version that cannot be read shows no shape

    return reshaped


def _way_up(evaluator: Evaluator, node: str, piece: str) -> tuple[str, ...]:
    """Return a node and those above it that hand a piece down to it, nearest first."""
    way, piece = [node], evaluator.summary(node).own_name(piece)
    while giver := evaluator.giver(way[-1], piece):
        evaluator, name = giver
        way.append(name)
    return tuple(way)


def of_garment(wardrobe: OpenWardrobe, state: State, garment: GarmentRecord) -> Selection:
    """Select a garment's cutting, notes and status, and what changed its pattern since."""
    own = Part((garment.path, garment.outline_path, garment.altered_path))
    if garment.pattern not in state.nodes:
        return Selection((own,))
    try:
        cut_from = (wardrobe.resolve(garment.cut_from),)
    except UnknownRevision:
        return Selection((own,))  # cut elsewhere, from a version this copy does not hold
    return Selection((own, Part(paths_above(state, garment.pattern), cut_from)))


def of_body(state: State, body: BodyRecord) -> Selection:
    """Select what was measured of a body, and what followed from it: its blocks, its garments."""
    paths = [*_followed_by(state, body)]
    paths += [path for g in garments_of_body(state, body) for path in (g.path, *g.outline_paths)]
    return Selection((Part(tuple(dict.fromkeys(paths))),))


def _followed_by(state: State, body: BodyRecord) -> list[str]:
    """Return the files of a body and of the blocks that are drafted for it."""
    blocks = [state.nodes[each.block].path for each in following(state, body.name)]
    return [body.path, *blocks]


def of_wearer(state: State, wearer: str) -> Selection:
    """Select what a wearer's garments and notes, and the nodes these were cut from, went through.

    What was measured of the wearer is part of it, and the blocks that follow from that. Raises
    NoSuchWearer with the nearest names.
    """
    body = called(state.bodies.values(), wearer)
    garments = garments_of(state, wearer, is_measured=body is not None)
    paths = _followed_by(state, body) if body else []
    paths += [path for each in garments for path in (each.path, *each.outline_paths)]
    for pattern in sorted({each.pattern for each in garments} & state.nodes.keys()):
        paths += paths_above(state, pattern)
    return Selection((Part(tuple(dict.fromkeys(paths))),))


def garments_of(
    state: State, wearer: str, *, is_measured: bool = False
) -> tuple[GarmentRecord, ...]:
    """Return the garments of a wearer, and those a note says they wore; raises NoSuchWearer.

    There may be none of who `is_measured`.
    """
    wanted = wearer.strip().casefold()
    found = tuple(
        garment
        for garment in state.garments.values()
        if wanted in [name.casefold() for name in _wearers(garment)] and wanted
    )
    if not found and not is_measured:
        worn = {name for each in state.garments.values() for name in _wearers(each)}
        known = sorted(worn | {each.wearer for each in state.bodies.values()})
        raise NoSuchWearer(wearer, _nearest(wearer, known))
    return found


def _wearers(garment: GarmentRecord) -> list[str]:
    names = [garment.wearer, *(note.wearer for note in garment.notes)]
    return [name for name in names if name]


def subject(
    wardrobe: OpenWardrobe, evaluator: Evaluator, name: str
) -> tuple[NodeRecord | GarmentRecord, Selection]:
    """Return the node or garment of a name, and the selection of its history.

    Raises NoSuchSubject with the nearest names, Damaged for one that cannot be read.
    """
    state = evaluator.state
    if name in state.nodes:
        return state.nodes[name], of_chain(wardrobe, evaluator, state.nodes[name])
    if name in state.garments:
        return state.garments[name], of_garment(wardrobe, state, state.garments[name])
    state.require_readable(name)
    raise NoSuchSubject(name, _nearest(name, [*sorted(state.nodes), *sorted(state.garments)]))


def paths_above(state: State, node: str) -> tuple[str, ...]:
    """Return the files of a node and of all it derives from."""
    return tuple(state.nodes[name].path for name in graph.lineage_of(state.nodes, node))


def _shape(evaluator: Evaluator | None, nodes: Sequence[str], piece: str, edge: str) -> object:
    """Return an edge's shape at the first of some nodes that was there; None when none was."""
    if evaluator is None:
        return None
    there = next((node for node in nodes if evaluator.state.has(node)), None)
    if there is None:
        return None
    draft = evaluator.draft(there)
    # Before left and right were parted a piece had the name both share.
    named = next((each for each in (piece, unsided(piece)) if draft.has_piece(each)), None)
    if named is None or edge not in draft.piece(named).edge_names:
        return None
    from trueup.geometry.pieces.fingerprint import shape_of  # noqa: PLC0415  (beside the draft)

    return shape_of(draft.piece(named), edge)


def _nearest(name: str, known: Sequence[str]) -> tuple[str, ...]:
    like = get_close_matches(name.casefold(), [each.casefold() for each in known], n=3, cutoff=0.5)
    return tuple(each for each in known if each.casefold() in like) or tuple(known[:8])
