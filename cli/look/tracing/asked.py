"""A drawing as a page hands it over, and what its maker says of its lines."""

from collections.abc import Iterator, Mapping
from pathlib import PurePath
from typing import Annotated

import msgspec

from trueup.cli.failures import Misused
from trueup.cli.look.acting import USUAL_SIZE
from trueup.cli.look.written import Short, with_option
from trueup.cli.options.drawing_words import strip_reach
from trueup.geometry.units import Unit, parse_length
from trueup.lineage.drawings.photographs.kind import is_picture_by_name
from trueup.lineage.drawings.proposing.drawing_file import DXF
from trueup.lineage.drawings.stating.stated import StatedSeam
from trueup.lineage.drawings.tracing.errors import CannotTrace
from trueup.lineage.limits import LARGEST_DRAWING, LARGEST_DXF, LARGEST_PHOTO, LARGEST_RECORD

LARGEST = LARGEST_PHOTO * 4 // 3 + 2 * LARGEST_RECORD + USUAL_SIZE  # as base64 (RFC 4648)

_MOST = msgspec.Meta(max_length=1_000)


class AskedSeam(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """Edges that are sewn to others, with `+` between; without others, to nothing."""

    side: Short
    mate: Short = ""
    name: Short = ""
    ease: Short = ""

    def stated(self, unit: Unit) -> StatedSeam:
        """Return it as it is stated; a bare number of its ease takes the unit."""
        low, to, high = self.ease.partition(" to ")
        band = [_signed(text, unit) for text in ((low, high) if to else (low, low))]
        return StatedSeam(self.name, _edges(self.side), _edges(self.mate), *band)


class AskedDrawing(msgspec.Struct, forbid_unknown_fields=True, frozen=True):
    """A drawing, or what one that was handed over is known by, and what is said of it.

    `names` are those of lines by their numbers, `folds` the edges on the fold by piece. `measures`
    are lines and how long they are on paper, with commas between; `over` says whether it is turned
    over, `strip` how far a strip of the frame reaches as it was printed.
    """

    source: Short
    content: bytes = b""
    known: Short = ""
    names: Annotated[dict[Short, Short], _MOST] = {}
    folds: Annotated[dict[Short, Short], _MOST] = {}
    seams: Annotated[list[AskedSeam], _MOST] = []
    measures: Short = ""
    over: bool | None = None
    strip: Short = ""

    @property
    def file(self) -> str:
        """Return what its file is called, whatever folders a browser tells with it."""
        return PurePath(self.source.replace("\\", "/")).name or "drawing"

    @property
    def lengths(self) -> Mapping[str, float]:
        """Return how long lines are on paper, mm; raises Misused, BadLength."""
        return {
            line: parse_length(text, Unit.MILLIMETRE) for line, text in _measured(self.measures)
        }

    @property
    def reach(self) -> float:
        """Return how far a strip of the frame reaches, mm; raises Misused, BadLength."""
        return strip_reach(self.strip or None, self.file)

    def require_small(self) -> None:
        """Raise CannotTrace for a drawing that is larger than any of its kind."""
        largest = LARGEST_DRAWING
        if is_picture_by_name(self.file):
            largest = LARGEST_PHOTO
        elif PurePath(self.file).suffix.lower() == DXF:
            largest = LARGEST_DXF
        if len(self.content) > largest:
            raise CannotTrace(self.file, f"it is larger than {largest // 1_000_000} MB")

    def words(self, node: str) -> list[str]:
        """Return the words of the command that makes a block of it, but for its file of names."""
        file = f"./{self.file}" if self.file.startswith("-") else self.file
        words = ["trace", file, node]
        for line, text in _measured(self.measures):
            words += ["--measure", f"{line}={text}"]
        words = with_option(words, "--strip", self.strip)
        if self.over is not None:
            words.append("--turned-over" if self.over else "--as-drawn")
        return words


def _measured(text: str) -> Iterator[tuple[str, str]]:
    for each in filter(None, map(str.strip, text.split(","))):
        line, equals, length = (part.strip() for part in each.rpartition("="))
        if not (line and equals and length):
            raise Misused(f'"{each}" is not LINE=LENGTH; write it like front.side=42cm.')
        yield line, length


def _edges(text: str) -> tuple[str, ...]:
    return tuple(text.replace("+", " ").split())


def _signed(text: str, unit: Unit) -> float:
    bare = text.strip().replace("−", "-")
    if not bare:
        return 0.0
    return (-1.0 if bare.startswith("-") else 1.0) * parse_length(bare.lstrip("-"), unit)
