"""What a seam may hold, as a bar: a field for what is allowed, marks for what it was and is."""

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from trueup.cli.amounts import band, length, standing
from trueup.geometry.measuring.walk import Walk
from trueup.geometry.pieces.band import Band
from trueup.geometry.units import Unit

_ACROSS = 150.0
_HEIGHT = 18.0
_AT_ENDS = 8.0
_LEAST = 4.0  # mm that the bar spans at least
_IN_ALL = "in all"


@dataclass(frozen=True)
class OnBand:
    """The ease of a seam, or of a section of it, on the band it is allowed, mm.

    `now` is what it is, or was before what `after` came of; either is None where there is none.
    """

    name: str
    allowed: Band
    now: float | None
    after: float | None

    @property
    def shown(self) -> float:
        """Return the ease that counts: as it would be, or is where nothing would change it."""
        return next(mm for mm in (self.after, self.now, 0.0) if mm is not None)

    @property
    def moves(self) -> bool:
        """Return whether it would be another."""
        return self.now is not None and self.after is not None


@dataclass(frozen=True)
class BandWords:
    """A band as a page tells it: whose ease, the bar, and the same in figures."""

    name: str
    bar: Markup
    ease: str
    allowed: str
    standing: str
    holds: bool


def on_bands(now: Walk | None, after: Walk | None) -> tuple[OnBand, ...]:
    """Return the ease of a walked seam in all and by sections, before and after something."""
    shown = after or now
    if shown is None:
        return ()
    eases = (each.ease if each else None for each in (now, after))
    found = [OnBand(_IN_ALL, shown.seam.allowed, *eases)]
    for part in shown.sections:
        name = part.section.name
        eases = (_section_ease(each, name) for each in (now, after))
        found.append(OnBand(f"{name} part", part.section.allowed, *eases))
    return tuple(found)


def band_words(found: tuple[OnBand, ...], unit: Unit) -> Iterator[BandWords]:
    """Yield bands as a page tells them."""
    for each in found:
        ease = length(each.shown, unit)
        if each.moves and (was := length(each.now, unit)) != ease:
            ease = f"{was} -> {ease}"
        yield BandWords(
            each.name,
            _bar(each),
            ease,
            band(each.allowed, unit),
            standing(each.allowed, each.shown, unit),
            each.allowed.holds(each.shown),
        )


def _section_ease(walked: Walk | None, name: str) -> float | None:
    sections = walked.sections if walked else ()
    return next((part.ease for part in sections if part.section.name == name), None)


def _bar(each: OnBand) -> Markup:
    """Return the bar; it repeats the figures beside it, and is not read out."""
    low, high = each.allowed.low, each.allowed.high
    marks = [mm for mm in (low, high, each.now, each.after) if mm is not None]
    least, most = min(marks), max(marks)
    span = max(most - least, _LEAST)
    middle = (least + most) / 2

    def at(mm: float) -> float:
        return _ACROSS / 2 + (mm - middle) / span * (_ACROSS - 2 * _AT_ENDS)

    parts = [
        Markup('<rect class="allowed" x="{:.1f}" y="6" width="{:.1f}" height="6" />').format(
            at(low), max(at(high) - at(low), 1.5)
        )
    ]
    if each.moves and each.now is not None:
        parts.append(Markup('<path class="was" d="M{:.1f} 1v16" />').format(at(each.now)))
    parts.append(Markup('<path class="is" d="M{:.1f} 1v16" />').format(at(each.shown)))
    return Markup(
        '<svg class="bar band" aria-hidden="true" focusable="false" viewBox="0 0 {0:g} {1:g}" '
        'width="{0:g}" height="{1:g}"><path class="base" d="M0 9H{0:g}" />{2}</svg>'
    ).format(_ACROSS, _HEIGHT, Markup("").join(parts))
