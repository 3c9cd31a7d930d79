"""Which commands help with what went wrong: the one place where an error meets the command line.

Below the command line an error says what, where and what to do; here it is said how.
"""

import shlex
from functools import singledispatch

from trueup.cli.wording.words import worded_error
from trueup.geometry.errors import GeometryError
from trueup.geometry.units import Unit
from trueup.lineage.errors import (
    Damaged,
    NotDrafted,
    StandsOnUnreadable,
    StepUnclear,
    VerdictUnknown,
    WardrobeError,
    printable,
    quoted,
)
from trueup.lineage.errors.nodes import BadRecord
from trueup.lineage.files.bodies.errors import (
    FollowsABody,
    MeasuredOtherwise,
    NoSuchBody,
    NothingMeasured,
)
from trueup.lineage.files.gaps import NotGiven
from trueup.lineage.files.garment_errors import GoingBack, NoSuchNote, NoSuchSymptom, Unsaid
from trueup.lineage.hand_edits.errors import CutClothEdited, NotAPicture, OpenedEarlier
from trueup.lineage.promotion.errors import AmountAsked, ComesOutDifferent
from trueup.lineage.store.joins.merge_errors import HalfMerged


def error_sentence(error: WardrobeError | GeometryError, unit: Unit | None = None) -> str:
    """Return what an error says, with the commands or options that help.

    Lengths are in a unit, or in the one of the wardrobe it was met in.
    """
    helping, said = listed(commands(error)), worded_error(error, unit)
    return f"{said.removesuffix('.')} ({helping})." if helping else said


def listed(helping: tuple[str, ...]) -> str:
    """Return commands or options as words of a sentence."""
    return ", ".join(f"`{each}`" for each in helping)


@singledispatch
def commands(error: Exception) -> tuple[str, ...]:  # noqa: ARG001
    """Return the commands or options that help, as they are typed; mostly there are none."""
    return ()


@commands.register
def _(error: Damaged) -> tuple[str, ...]:
    # What derives from it has help of its own, or none.
    return ("trueup restore",) if type(error) is Damaged else ()


@commands.register
def _(error: BadRecord) -> tuple[str, ...]:
    return () if error.may_be_whole else (_line("restore", error.place),)


@commands.register
def _(error: NotGiven) -> tuple[str, ...]:  # noqa: ARG001
    return ("trueup restore",)


@commands.register
def _(error: StandsOnUnreadable | VerdictUnknown) -> tuple[str, ...]:
    return commands(error.cause)


@commands.register
def _(error: NotDrafted) -> tuple[str, ...]:
    return tuple(_line("remeasure", each, "--help") for each in error.blocks[:1])


@commands.register
def _(error: NoSuchBody) -> tuple[str, ...]:  # noqa: ARG001
    return ("trueup body",)


@commands.register
def _(error: NothingMeasured) -> tuple[str, ...]:
    return (_line("body", error.body),)


@commands.register
def _(error: MeasuredOtherwise) -> tuple[str, ...]:  # noqa: ARG001
    return ("--date YEAR-MONTH-DAY",)


@commands.register
def _(error: FollowsABody) -> tuple[str, ...]:
    return (_line("body", error.body, "--help"),)


@commands.register
def _(error: OpenedEarlier) -> tuple[str, ...]:
    verbs = [_line("drop", each.place, each.id) for each in error.missing if each.is_step]
    verbs += [_line("amend", each.place, each.id) for each in error.otherwise if each.is_step]
    return (_line("restore", error.path), *verbs[:1], _keep(error.path))


@commands.register
def _(error: CutClothEdited) -> tuple[str, ...]:
    return (_line("restore", error.path), _keep(error.path))


@commands.register
def _(error: NotAPicture) -> tuple[str, ...]:
    return (_line("restore", error.path),)


@commands.register
def _(error: StepUnclear) -> tuple[str, ...]:  # noqa: ARG001
    return ("trueup history",)


@commands.register
def _(error: HalfMerged) -> tuple[str, ...]:  # noqa: ARG001
    return ("trueup mend", "git merge --abort")


@commands.register
def _(error: NoSuchSymptom) -> tuple[str, ...]:  # noqa: ARG001
    return ("--words TEXT",)


@commands.register
def _(error: NoSuchNote) -> tuple[str, ...]:
    return () if error.known else ("trueup garments",)


@commands.register
def _(error: GoingBack) -> tuple[str, ...]:  # noqa: ARG001
    return ("--why TEXT",)


@commands.register
def _(error: Unsaid) -> tuple[str, ...]:
    return ("--why TEXT" if error.what == "reason" else "--words TEXT",)


@commands.register
def _(error: AmountAsked) -> tuple[str, ...]:
    dart = () if error.shared_with else ("--dart PIECE.DART",)
    return (*dart, "--as-is", "--scaled", "--by LENGTH")


@commands.register
def _(error: ComesOutDifferent) -> tuple[str, ...]:  # noqa: ARG001
    return ("--accept-difference",)


def _line(*words: str) -> str:
    return printable(f"trueup {' '.join(shlex.quote(quoted(word)) for word in words)}")


def _keep(path: str) -> str:
    return f"{_line('keep', path)} --why TEXT"
