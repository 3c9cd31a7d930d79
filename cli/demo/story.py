"""A wardrobe told as a list of steps, and how such a list is read from a file."""

from collections.abc import Mapping
from typing import Any

import msgspec

from trueup.lineage.files.garment_records import NotedSide, Status

VERBS = ("draft", "derive", "style", "correct", "decide", "cut", "note", "garment", "resolve")


class TakenParent(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A parent in a list of steps: its name, and which of its pieces are taken."""

    name: str
    pieces: tuple[str, ...]


class StoryStep(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One step of a list: one of the verbs with what it is for, what goes into it, and why.

    `cut` names the pattern, `note`, `garment` and `resolve` the garment. `decide` takes the first
    conflict that waits at its node, `resolve` the open note of its symptom and the last step of the
    kind `by` made `at` a node. What a note says in words is its `why`.
    """

    why: str
    draft: str | None = None
    derive: str | None = None
    style: str | None = None
    correct: str | None = None
    decide: str | None = None
    cut: str | None = None
    note: str | None = None
    garment: str | None = None
    resolve: str | None = None
    system: str = ""
    body: dict[str, str] = {}
    block: bool = False
    from_: str | tuple[TakenParent, ...] = msgspec.field(name="from", default=())
    changes: tuple[dict[str, Any], ...] = ()
    remedy: str = ""
    name: str = ""
    fabric: str = ""
    wearer: str = ""
    date: str | None = None
    stitched_down: tuple[str, ...] = ()
    symptom: str = ""
    place: str = ""
    amount: str | None = None
    side: NotedSide = NotedSide.BOTH
    status: Status = Status.WORN
    at: str = ""
    by: str = ""

    def __post_init__(self) -> None:
        if sum(getattr(self, verb) is not None for verb in VERBS) != 1:
            raise ValueError(f"a step is one of {', '.join(VERBS)}")


class ToldCorrection(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A correction that is told but not yet made: the node, its change, and why.

    `mends` is the symptom it cures at the place it changes: it mends every note of it there.
    """

    node: str
    change: Mapping[str, Any]
    why: str
    place: str
    mends: str


class Tale(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A wardrobe as the list of steps that builds it."""

    name: str
    unit: str
    step: tuple[StoryStep, ...]


class Story(Tale, frozen=True, forbid_unknown_fields=True):
    """A wardrobe as the list of steps that builds it, and a correction to be tried on it."""

    correction: ToldCorrection


class ToldSteps(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Some steps of a wardrobe that others tell the rest of: its blocks, or one garment."""

    step: tuple[StoryStep, ...]


def read_story(text: bytes) -> Story:
    """Return the story a TOML file tells; raises msgspec.DecodeError for what is none."""
    return msgspec.toml.decode(text, type=Story)


def read_chapter(text: bytes) -> ToldSteps:
    """Return the steps that a TOML file tells; raises msgspec.DecodeError for what is none."""
    return msgspec.toml.decode(text, type=ToldSteps)
