"""What can go wrong with garments and fit notes.

BadInput                      asked for something that cannot be done        (exit 2)
├── BadDate                   no date, or a day on which it cannot have been
├── BadWords                  words that cannot be kept in a file
├── BadPhoto                  a file that is no picture to keep, or too large a one
├── NoSuchSymptom             a word that is not in the vocabulary of symptoms
├── NoSuchNote                no garment has a fit note of this id
├── CannotMend                a step that cannot have mended a fit note
├── GoingBack                 a garment put back to an earlier status without a reason
└── CannotAlter               a garment whose cloth cannot be compared with its pattern
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from trueup.lineage.errors import BadInput, listed, quoted


@dataclass(eq=False)
class BadDate(BadInput):
    """A text that is no date, or a date on which what it stands for cannot have been."""

    text: str
    reason: str

    def __str__(self) -> str:
        return (
            f'The date "{quoted(self.text)[:40]}" cannot be taken: {self.reason}; write the day '
            "it was, year first, as in 2025-03-31."
        )


@dataclass(eq=False)
class BadWords(BadInput):
    """Words that cannot be kept: too many, or holding what no text file holds."""

    what: str
    reason: str

    def __str__(self) -> str:
        return f"The {self.what} cannot be kept: {self.reason}; write it shorter or plainer."


@dataclass(eq=False)
class Unsaid(BadInput):
    """Words that a step cannot do without, a `reason` or the `words` of a note, and nobody says."""

    what: Literal["reason", "words"]
    because: str

    def __str__(self) -> str:
        wanted = "why" if self.what == "reason" else "what is seen, in words"
        return f"Say {wanted}: {self.because}."


@dataclass(eq=False)
class BadPhoto(BadInput):
    """A file that is no picture, or larger than a fit note should carry."""

    path: str
    reason: str

    def __str__(self) -> str:
        return (
            f"{quoted(self.path)} cannot be taken as a photo: {self.reason}; give a JPEG, PNG "
            "or WebP picture of your own, at most 20 MB and 50 megapixels."
        )


@dataclass(eq=False)
class NoSuchSymptom(BadInput):
    """A word that is not in the vocabulary of symptoms."""

    symptom: str
    nearest: Sequence[str]

    def __str__(self) -> str:
        return (
            f'"{quoted(self.symptom)[:60]}" is not a known symptom; try '
            f"{', '.join(self.nearest)}, or `other` with words that say what is seen."
        )


@dataclass(eq=False)
class NoSuchNote(BadInput):
    """No garment has a fit note of this id; it may be in a file that is `unreadable`."""

    note: str
    known: Sequence[str]
    unreadable: Sequence[str] = ()

    def __str__(self) -> str:
        start = f'There is no fit note "{quoted(self.note)[:60]}"'
        if self.unreadable:
            start += f" outside of {listed(self.unreadable)}, which cannot be read"
        if not self.known:
            return f"{start}: none is open; look at the garments there are."
        return f"{start}; open are {listed(self.known)}."


@dataclass(eq=False)
class CannotMend(BadInput):
    """A step that cannot have mended a fit note, or a note that is not as it would have to be."""

    note: str
    reason: str

    def __str__(self) -> str:
        return f"{self.note} stays as it is: {self.reason}."


@dataclass(eq=False)
class GoingBack(BadInput):
    """A garment put back to an earlier status, and nobody says why."""

    garment: str
    status: str
    wanted: str

    def __str__(self) -> str:
        return (
            f"{self.garment} is {self.status} already, which comes after {self.wanted}; if that "
            "was recorded wrongly, say why."
        )


@dataclass(eq=False)
class CannotAlter(BadInput):
    """A garment whose cloth cannot be compared with its pattern as it is now."""

    garment: str
    reason: str

    def __str__(self) -> str:
        return f"{self.garment} cannot be compared with its pattern: {self.reason}."
