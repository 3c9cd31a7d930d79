"""Who shares the fault of one place, where one correction would mend the most, and what it leaves.

A fault lives in whatever last shaped its place. Whoever has the place from there unchanged shares
it: patterns as they are now, garments as they were cut.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from trueup.lineage.faults.handed_down import Trace
from trueup.lineage.faults.inquiry import Inquiry, NoOpenNote, Place, SeenNote, kind_of, same_kind
from trueup.lineage.faults.taken_over import Rank, taken_over
from trueup.lineage.files import graph
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.records import StepRecord


class NotMended(StrEnum):
    """Why a correction at the recommended node would not mend a pattern or a garment."""

    OWN_STEP = "own-step"
    TAKEN_OVER = "taken-over"
    ELSEWHERE = "elsewhere"
    HELD = "held"
    OLDER = "older-version"
    CORRECTED = "corrected"
    RETIRED = "retired"
    DELETED = "deleted"
    UNREADABLE = "unreadable"


@dataclass(frozen=True)
class Sharing:
    """A garment that was cut with the fault; `corrected` where its pattern was mended since."""

    garment: str
    pattern: str
    status: Status
    corrected: bool


@dataclass(frozen=True)
class Unmended:
    """A pattern, or a garment, that a correction would not mend, and why."""

    name: str
    is_garment: bool
    reason: NotMended
    says: str


@dataclass(frozen=True)
class SharedFault:
    """Who shares the fault of a place, and at which node one correction would mend the most.

    `node` and `step` last shaped the place as it was cut, `now_node` and `now_step` as it is now
    (empty and None where the pattern is gone, cannot be read or lacks the place). `ranks` lead from
    the pattern upwards, last to a step that grafts take over; `best` is the one of them that mends
    the most garments, the highest of equals, None where none mends anything. `unmended` are those
    below `best` that it would not reach.
    """

    of: str
    place: str
    lines: tuple[str, ...]
    symptom: str | None
    node: str
    step: StepRecord | None
    now_node: str
    now_step: StepRecord | None
    patterns: tuple[str, ...]
    blocks: tuple[str, ...]
    garments: tuple[Sharing, ...]
    notes: tuple[SeenNote, ...]
    ranks: tuple[Rank, ...]
    best: Rank | None
    unmended: tuple[Unmended, ...]


def faults_of_garment(
    inquiry: Inquiry, name: str, note_id: str | None = None
) -> tuple[SharedFault, ...]:
    """Return the shared fault behind each open note of a garment, or behind one note.

    Raises NoSuchGarment, NoOpenNote, NoSuchName for a place the cut version does not have.
    """
    garment = inquiry.state.garment(name)
    asked = [n for n in garment.notes if n.id == note_id] if note_id else garment.open_notes
    if not asked:
        known = [n.id for n in (garment.notes if note_id else ())]
        raise NoOpenNote(name, note_id or "", known)
    return tuple(fault_of_note(inquiry, garment, note) for note in asked)


def fault_of_note(inquiry: Inquiry, garment: GarmentRecord, note: FitNote) -> SharedFault:
    """Return who shares what was seen on a garment, by the place as the garment was cut."""
    place = inquiry.cut_place(garment, note.place)
    return _shared(inquiry, garment.name, garment.pattern, place, note)


def fault_of_place(inquiry: Inquiry, node: str, name: str) -> SharedFault:
    """Return who shares a place of a node as it is now; raises NoSuchNode, NoSuchName."""
    return _shared(inquiry, node, node, inquiry.place(inquiry.now, node, name), None)


def _shared(
    inquiry: Inquiry, of: str, pattern: str, place: Place, note: FitNote | None
) -> SharedFault:
    now = inquiry.now_at(pattern, place)
    having = inquiry.patterns(place)
    garments = inquiry.garments(place)
    way = now.way if now and now.is_same(place) else place.way
    at_nodes = tuple(_rank(node, having, garments) for node in way if node in inquiry.state.nodes)
    amended = taken_over(inquiry, place, having)
    useful = [rank for rank in at_nodes if rank.garments or rank.patterns]
    useful.reverse()  # of equals the first counts: the highest, which mends what is made later, too
    if amended:
        mended = tuple(_mended(amended.patterns, garments))
        useful.append(replace(amended, garments=mended))
    ranks = (*at_nodes, *(rank for rank in useful if rank.step))
    best = max(useful, key=lambda rank: len(rank.garments), default=None)
    if best and not best.garments:  # nothing is cut yet: then by what is drawn
        best = max(useful, key=lambda rank: len(rank.patterns))
    return SharedFault(
        of,
        place.name,
        tuple(str(line) for line in place.lines),
        note.symptom if note else None,
        place.node,
        place.step,
        now.node if now else "",
        now.step if now else None,
        tuple(name for name in having if not inquiry.state.nodes[name].is_block),
        tuple(name for name in having if inquiry.state.nodes[name].is_block),
        tuple(_sharing(garment, having) for garment in garments),
        same_kind(garments, place.name, kind_of(note) if note else None),
        ranks,
        best,
        tuple(_unmended(inquiry, place, best, having, garments)),
    )


def _sharing(garment: GarmentRecord, having: Iterable[str]) -> Sharing:
    return Sharing(garment.name, garment.pattern, garment.status, garment.pattern not in having)


def _rank(node: str, having: dict[str, Place], garments: Sequence[GarmentRecord]) -> Rank:
    patterns = tuple(name for name, place in having.items() if node in place.free)
    return Rank(node, patterns, tuple(_mended(patterns, garments)))


def _mended(patterns: Sequence[str], garments: Sequence[GarmentRecord]) -> Iterator[str]:
    """Yield the garments that are mended with their patterns."""
    for each in garments:
        if each.pattern in patterns and each.status is not Status.RETIRED:
            yield each.name


def _unmended(
    inquiry: Inquiry,
    place: Place,
    best: Rank | None,
    having: dict[str, Place],
    garments: Sequence[GarmentRecord],
) -> Iterator[Unmended]:
    at = best.node if best else place.node
    reached = best.patterns if best else ()
    state = inquiry.state
    below = graph.below(state.graph, at) if at in state.nodes else set()
    were_cut = {garment.pattern for garment in garments}
    for name in inquiry.state.in_order:
        if name in below and name not in reached:
            reason, says = _why_not(inquiry, name, at, place, was_shared=name in were_cut)
            yield Unmended(name, False, reason, says)
    for garment in garments:
        if garment.name not in (best.garments if best else ()):
            reason, says = _why_garment_not(inquiry, garment, at, having)
            yield Unmended(garment.name, True, reason, says)
    shared = {garment.name for garment in garments}
    for name, garment in sorted(inquiry.state.garments.items()):
        if garment.pattern in reached and name not in shared:
            says = f"cut from an older version of {garment.pattern}, with another line there"
            yield Unmended(name, True, NotMended.OLDER, says)


def _why_garment_not(
    inquiry: Inquiry, garment: GarmentRecord, at: str, having: dict[str, Place]
) -> tuple[NotMended, str]:
    pattern = garment.pattern
    if pattern in inquiry.state.lost_nodes:
        return NotMended.UNREADABLE, f"its pattern {pattern} cannot be read now"
    if pattern not in inquiry.state.nodes:
        return NotMended.DELETED, f"its pattern {pattern} is no longer in the wardrobe"
    if pattern not in having:
        return NotMended.CORRECTED, f"{pattern} was given another line there since it was cut"
    if garment.status is Status.RETIRED:
        return NotMended.RETIRED, "it is retired"
    if at not in having[pattern].way:
        return NotMended.ELSEWHERE, f"{pattern} does not have it by way of {at}"
    return NotMended.HELD, f"{pattern} follows an earlier version, so nothing done at {at} arrives"


def _why_not(
    inquiry: Inquiry, name: str, at: str, place: Place, *, was_shared: bool
) -> tuple[NotMended, str]:
    """Return why a node below `at` would not get a correction of the place made there."""
    for line, asked in zip(place.lines, place.traces, strict=True):
        trace = inquiry.tracer.trace(inquiry.now, name, line)
        if trace is None:
            return NotMended.ELSEWHERE, f"takes no {line} from {at}"
        if trace.is_same(asked) and at in trace.free:
            continue
        return _why_line_not(inquiry, trace, at, was_shared=was_shared)
    return NotMended.OWN_STEP, f"has the lines of {place.name} by different ways"


def _why_line_not(
    inquiry: Inquiry, trace: Trace, at: str, *, was_shared: bool
) -> tuple[NotMended, str]:
    line, end = trace.source.line, trace.way[-1]
    if at not in trace.free and trace.held and at in trace.way:
        return NotMended.HELD, f"{trace.held} follows an earlier version of {_above(trace)}"
    if end == at and at in trace.free:
        return NotMended.CORRECTED, f"{line} of {at} is another already"
    if end not in {at, *graph.below(inquiry.state.graph, at)}:
        return NotMended.ELSEWHERE, f"takes its {line.piece} by way of {end}, not from {at}"
    if trace.held:
        return NotMended.HELD, f"{trace.held} follows an earlier version of {_above(trace)}"
    reason, says = _drawn_there(inquiry, trace, at)
    if was_shared and reason is NotMended.OWN_STEP:
        return NotMended.CORRECTED, f"corrected since: {says}"
    return reason, says


def _drawn_there(inquiry: Inquiry, trace: Trace, at: str) -> tuple[NotMended, str]:
    """Return by which step a line was drawn where it is another."""
    line, end = trace.source.line, trace.way[-1]
    step = f"{trace.step.kind} ({trace.step.id})" if trace.step else "draft"
    if not trace.taken_by:
        return NotMended.OWN_STEP, f"{line} was drawn by {end}'s own {step}"
    if at in graph.fit_above(inquiry.state.nodes, end):
        says = f"{line} was drawn by {step}, which {end} takes over from {trace.source.node}"
        return NotMended.OWN_STEP, says
    return NotMended.TAKEN_OVER, f"{end} takes over {step}, but no correction of {at}"


def _above(trace: Trace) -> str:
    return trace.way[trace.way.index(trace.held) + 1]
