"""One place where what goes wrong becomes one sentence on stderr and an exit code.

0 done; 1 `check` or `conflicts` found something open; 2 bad input; 3 damage: what was asked for
cannot be read, or a part of it, and then the rest is answered for.
"""

import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from difflib import get_close_matches
from typing import TYPE_CHECKING

import typer

from trueup.cli.plain.help_pages import plain_words

if TYPE_CHECKING:
    from trueup.geometry.said import Said

_STOPPED_SENTENCE = (
    "Stopped: the wardrobe is as it was before this step or as it is after it, nothing between; "
    "`trueup history` says which."
)

OPEN = 1
BAD_INPUT = 2
DAMAGED = 3
_LONGEST_WORD = 500  # characters of one word that is told
_LONGEST_SENTENCE = 4_000  # characters; the middle of a longer one is left out

STOPPED = 130  # what a shell expects of a command stopped from the keyboard

# What typer raises for a command line that it cannot read.
_USAGE_ERROR: type[Exception] = next(
    cls for cls in typer.BadParameter.__mro__ if cls.__name__ == "UsageError"
)


class Misused(Exception):
    """A command line that asks for something there is not; `says` is the whole sentence.

    `unit` is the one the maker reads lengths in, where that is known; the facts have them in mm.
    """

    unit = "mm"

    def __init__(self, says: "Said | str") -> None:
        super().__init__(says)
        self.says = says


def nearest(name: str, known: Sequence[str]) -> str:
    """Return the known names most like a name, as words of a sentence; all when none is like it."""
    return ", ".join(get_close_matches(name, known, n=3, cutoff=0.5) or known)


def guarded(run: Callable[[], int]) -> int:
    """Run a command to its end and return the exit code; whatever is raised is told on stderr."""
    before = len(_recorded())
    try:
        code = run()
        sys.stdout.flush()
    except BaseException as error:
        if isinstance(error, SystemExit):
            return error.code if isinstance(error.code, int) else 0
        if os.environ.get("TRUEUP_TRACEBACK"):
            raise
        return _tell(error, _recorded()[before:])
    if code == STOPPED:
        return _tell(KeyboardInterrupt(), _recorded()[before:])
    return code


def _recorded() -> list[str]:
    """Return the steps this process recorded."""
    # What was never imported has recorded nothing.
    recorded = sys.modules.get("trueup.lineage.store.writing.recorded")
    return recorded.STEPS if recorded else []


def _only_edits(steps: Sequence[str]) -> bool:
    recorded = sys.modules.get("trueup.lineage.store.writing.recorded")
    return recorded is not None and recorded.EDITS.issuperset(steps)


def _tell(error: BaseException, steps: Sequence[str]) -> int:
    sentence, code = sentence_and_code(error)
    if sentence:
        with suppress(OSError, ValueError):
            # What only fits a sentence to a terminal is not waited for where nothing fails.
            from trueup.cli.page import fit_for_stderr  # noqa: PLC0415

            told = fit_for_stderr(_one_line(_with_steps(sentence, error, steps)))
            print(told, file=sys.stderr, flush=True)
    if isinstance(error, BrokenPipeError) or not sentence:
        _let_go_of_stdout()
    return code


def _with_steps(sentence: str, error: BaseException, steps: Sequence[str]) -> str:
    """Return what to say where a step was recorded before something failed."""
    if not steps:
        return sentence
    what = "Stopped" if isinstance(error, KeyboardInterrupt) else sentence.partition(";")[0]
    if sentence.endswith(f"recorded as {steps[-1][:10]}."):
        return f"{sentence[:-1]}, the last of {len(steps)}." if _is_many(steps) else sentence
    if _is_many(steps):
        last = steps[-1][:10]
        return f"{what}; before that {len(steps)} steps were recorded, the last as {last}."
    named = ", ".join(step[:10] for step in steps)
    if isinstance(error, KeyboardInterrupt | OSError):
        if _only_edits(steps):
            return f"{what}: nothing but your own edits is recorded, as {named}."
        return f"{what} after the step: do not repeat it, it is recorded as {named}."
    return f"{sentence.rstrip('.')}; what was done before that is recorded as {named}."


def _is_many(steps: Sequence[str]) -> bool:
    """Return whether they are more than edits and a step: those of a command that makes many."""
    return len(steps) > 2


def _let_go_of_stdout() -> None:
    """Let nothing be written to a pipe that is closed, not even when the program ends."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def sentence_and_code(error: BaseException) -> tuple[str, int]:
    """Return what to say of an error, nothing when nobody reads any more, and the exit code."""
    from trueup.cli.hints import error_sentence  # noqa: PLC0415
    from trueup.cli.page import ReaderGone  # noqa: PLC0415
    from trueup.lineage.errors import Damaged  # noqa: PLC0415

    if isinstance(error, ReaderGone | BrokenPipeError):
        return "", 0
    if isinstance(error, KeyboardInterrupt | typer.Abort):
        return _STOPPED_SENTENCE, STOPPED
    if isinstance(error, Damaged):
        return error_sentence(error), BAD_INPUT if error.may_be_whole else DAMAGED
    return _of_bad_input(error), BAD_INPUT


def _of_bad_input(error: BaseException) -> str:
    from trueup.cli.hints import error_sentence  # noqa: PLC0415
    from trueup.geometry.errors import GeometryError  # noqa: PLC0415
    from trueup.lineage.errors import WardrobeError  # noqa: PLC0415

    match error:
        case WardrobeError() | GeometryError():
            return error_sentence(error)
        case Misused():
            return _misused(error)
        case OSError():
            return _of_system(error)
        case MemoryError():
            return "There is not enough memory for this; nothing was recorded."
        case _USAGE_ERROR():
            return _of_usage(error)
    return (
        f"trueup met something it did not expect ({type(error).__name__}: {error}); the wardrobe "
        "is as before, and with TRUEUP_TRACEBACK=1 the same command says where it happened."
    )


def _misused(error: Misused) -> str:
    from trueup.cli.wording.words import worded  # noqa: PLC0415
    from trueup.geometry.units import Unit  # noqa: PLC0415

    return worded(error.says, Unit(error.unit))


def _of_system(error: OSError) -> str:
    place = f"{error.filename}: " if error.filename else ""
    return f"{place}{error.strerror or error}; make that possible and try again."


def _of_usage(error: Exception) -> str:
    context = getattr(error, "ctx", None)
    path = plain_words(context.command_path) if context is not None else "trueup"
    see = f"see `{path} --help`"
    option = getattr(error, "option_name", None)
    if type(error).__name__ == "NoSuchOption" and context is not None:
        known = [name for each in context.command.get_params(context) for name in each.opts]
        like = get_close_matches(str(option), known, n=3, cutoff=0.6)
        hint = f"try {', '.join(like)}, or {see}" if like else see
        return f"{path} has no option {option}; {hint}."
    message = str(getattr(error, "format_message", error.__str__)())
    return f"{message.strip().rstrip('.')}; {see}."


def _one_line(sentence: str) -> str:
    """Return a sentence on one line, fit for a terminal, whatever was typed or stands in a file."""
    from trueup.lineage.errors import printable  # noqa: PLC0415

    words = [f"{w[:_LONGEST_WORD]}…" if len(w) > _LONGEST_WORD else w for w in sentence.split()]
    line = printable(" ".join(words))
    if len(line) <= _LONGEST_SENTENCE:
        return line
    half = _LONGEST_SENTENCE // 2
    return f"{line[:half]} … {line[-half:]}"
