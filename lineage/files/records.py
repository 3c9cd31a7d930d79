"""What a wardrobe's files say, as typed, immutable records. Lengths in mm, dates as dates."""

import datetime
from enum import StrEnum
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from trueup.geometry.said import Said

FORMAT = 1
GRAFTED_FORMAT, NEWEST_FORMAT = 2, 3
"""What an earlier program would work out otherwise: a graft, bound amounts; one by other names."""

__all__ = [
    "FORMAT",
    "GRAFTED_FORMAT",
    "NEWEST_FORMAT",
    "BlockDraft",
    "ConflictKind",
    "ConflictRecord",
    "ConflictState",
    "Decision",
    "DraftedFor",
    "LeftOpen",
    "NodeRecord",
    "ParentRecord",
    "RemeasuringRecord",
    "Remedy",
    "Role",
    "Settings",
    "StepRecord",
    "StyleRecord",
    "TracedDraft",
    "WorkedNode",
    "replace",
]


class Role(StrEnum):
    """Why a step was made."""

    STYLE = "style"
    CORRECTION = "correction"
    DECISION = "decision"


class ConflictKind(StrEnum):
    """What a correction and a pattern's own changes disagree about."""

    MISSING = "missing"
    IMPOSSIBLE = "impossible"
    BOTH_SHAPED = "both-shaped"
    SEAM = "seam"
    SHAPE = "shape"
    DOUBLED = "doubled"
    TWO_MAKERS = "two-makers"


class ConflictState(StrEnum):
    """Whether a conflict waits for a decision."""

    OPEN = "open"
    ACCEPTED = "accepted"
    SETTLED = "settled"


class Settings(Struct, frozen=True):
    """wardrobe.toml: the wardrobe's name and the unit a bare number takes."""

    name: str
    unit: str = "mm"


class StepRecord(Struct, frozen=True):
    """One change in a chain; `values` are its parameters as the file writes them.

    `same_as` are the ids under which other makers made the same change. One that `stands_in` is
    made instead of the step of its id that a graft takes over.
    """

    id: str
    role: Role
    kind: str
    version: int = 1
    values: dict[str, Any] = {}
    why: str = ""
    date: datetime.date | None = None
    fitting: str | None = None
    settles: str | None = None
    same_as: tuple[str, ...] = ()
    stands_in: bool = False


class ParentRecord(Struct, frozen=True):
    """A parent, which of its pieces are taken (all when None), and a version to stay on."""

    name: str
    pieces: tuple[str, ...] | None = None
    hold: str | None = None


class StyleRecord(Struct, frozen=True):
    """Whose steps a node takes over, of the whole lineage down to its block: a graft.

    They are those made for looks, or for the fit where it `takes` corrections; `hold` is a version
    to stay on, `without` the ids of those left out, `called` the node's names by theirs.
    """

    name: str
    hold: str | None = None
    takes: Role = Role.STYLE
    without: tuple[str, ...] = ()
    called: dict[str, str] = {}


class BlockDraft(Struct, frozen=True):
    """How a block came to be: the drafting system and the body's measurements as written."""

    system: str
    body: dict[str, str]


class DraftedFor(Struct, frozen=True):
    """For whom a block is drafted: a body by name, and the day of the set it was drafted from."""

    body: str
    measured: datetime.date


class RemeasuringRecord(Struct, frozen=True):
    """That a block was drafted anew from other measurements: what they `was` before, why, and when.

    It stands beside the chain, for it changes what the chain starts from; by its `id` a fit note
    says that it mended what was seen.
    """

    id: str
    was: dict[str, str]
    why: str = ""
    date: datetime.date | None = None


class TracedDraft(Struct, frozen=True, rename={"source": "from"}):
    """A block that was drawn: the name of the file it was traced from, and the drawing itself.

    The drawing is kept as SVG beside the record; reading the record alone leaves it empty.
    """

    source: str
    drawing: str = ""


EASE_OF = "ease of "
"""Begins the name of an effect that is the ease of a section, before the section's name."""


class RemedyEffect(Struct, frozen=True):
    """What a remedy does to one measure, or to the ease of a section (`ease of front`), mm."""

    name: str
    before_mm: float
    after_mm: float


class LeftOpen(Struct, frozen=True):
    """What a remedy leaves, or makes, open: a finding, by its code, and how far it lies outside.

    `excess` is mm, or degrees for a kink.
    """

    code: str
    piece: str
    edge: str
    excess: float


class Remedy(Struct, frozen=True):
    """One way to settle a conflict; `amount_mm` is computed, None where there is none.

    `says` is what there is to say of it; text where an earlier version wrote it. `kind`, `version`
    and `values` are the change it adds, where it adds one; `effects` what that changes of what a
    maker would ask about, `leaves` what was found open when it was tried out.
    """

    name: str
    amount_mm: float | None = None
    says: Said | str = ""
    kind: str | None = None
    values: dict[str, Any] = {}
    effects: tuple[RemedyEffect, ...] = ()
    version: int = 1
    leaves: tuple[LeftOpen, ...] = ()


class Decision(Struct, frozen=True):
    """What was decided about a conflict, and why.

    `accepted_excess` is how far outside it was accepted (mm, or degrees for a kink), and
    `accepted_at_mm` what was measured then.
    """

    remedy: str
    why: str = ""
    date: datetime.date | None = None
    accepted_excess: float | None = None
    accepted_at_mm: float | None = None


class ConflictRecord(Struct, frozen=True):
    """A disagreement between a correction and a node's own changes, waiting for a decision.

    `before_mm` and `after_mm` are what was measured at piece and edge (for a seam: its ease, or
    that of the `section` of it that is farthest off, and then `whole_before_mm` that of the seam);
    `allowed_mm` the range it should keep to; `excess_mm` how far outside it lies. `correction`
    and `change` are step ids; `since` is the commit before the correction, which `hold` returns to.
    `own_name` is that of the piece where it is called otherwise.
    """

    id: str
    kind: ConflictKind
    arose_at: str
    piece: str
    edge: str
    code: str
    says: Said | str
    correction: str = ""
    corrected: str = ""
    change: str = ""
    before_mm: float | None = None
    after_mm: float | None = None
    allowed_mm: tuple[float, float] | None = None
    excess_mm: float = 0.0
    section: str = ""
    whole_before_mm: float | None = None
    since: str = ""
    state: ConflictState = ConflictState.OPEN
    remedies: tuple[Remedy, ...] = ()
    decisions: tuple[Decision, ...] = ()
    own_name: str = ""

    @property
    def key(self) -> tuple[str, str, str]:
        """Return what stays the same when the same thing is found again."""
        return self.code, self.own_name or self.piece, self.edge

    @property
    def was_corrected(self) -> bool:
        """Return whether a correction brought it, and not the making of the node it arose at."""
        return bool(self.correction) or self.corrected not in ("", self.arose_at)

    @property
    def whole_before(self) -> float | None:
        """Return what was measured before of the whole, though a section is what is off, mm."""
        return self.whole_before_mm if self.section else self.before_mm


class NodeRecord(Struct, frozen=True):
    """A block or pattern as its file states it.

    `drafted_for` says from whose set of measurements a drafted block was drafted last,
    `remeasured` how often, and from what, it was drafted anew.
    """

    name: str
    is_block: bool
    parents: tuple[ParentRecord, ...] = ()
    draft: BlockDraft | None = None
    traced: TracedDraft | None = None
    steps: tuple[StepRecord, ...] = ()
    conflicts: tuple[ConflictRecord, ...] = ()
    style: StyleRecord | None = None
    drafted_for: DraftedFor | None = None
    remeasured: tuple[RemeasuringRecord, ...] = ()

    @property
    def followed(self) -> tuple[ParentRecord, ...]:
        """Return all it follows: its parents, and whose style it takes."""
        style = self.style
        return (*self.parents, *([ParentRecord(style.name, None, style.hold)] if style else []))

    @property
    def path(self) -> str:
        """Return the file of the node inside the wardrobe."""
        return f"{'blocks' if self.is_block else 'patterns'}/{self.name}.toml"

    @property
    def drawing_path(self) -> str:
        """Return the file beside it that keeps the drawing of a traced block."""
        return f"{self.path.removesuffix('.toml')}.svg"

    @property
    def kind(self) -> str:
        """Return the word for what the node is."""
        return "block" if self.is_block else "pattern"

    def step(self, step_id: str) -> StepRecord | None:
        """Return a step by its id, or by the id another maker's has; None when there is none."""
        found = (s for s in self.steps if s.id == step_id or step_id in s.same_as)
        return next(found, None)

    def remeasuring(self, made: str) -> RemeasuringRecord | None:
        """Return a re-measuring by its id; None when there is none."""
        return next((each for each in self.remeasured if each.id == made), None)

    @property
    def open_conflicts(self) -> tuple[ConflictRecord, ...]:
        """Return the conflicts that wait for a decision."""
        return tuple(c for c in self.conflicts if c.state is ConflictState.OPEN)


class WorkedNode(NodeRecord, frozen=True):
    """A node with all the steps it is worked out by, amounts as they come to on its body.

    Those it takes over with a style stand before its own; `instead` are those that stand in for
    some of them.
    """

    instead: tuple[StepRecord, ...] = ()
