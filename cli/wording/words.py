"""Facts in words: a sentence by its name, with its lengths in the wardrobe's unit."""

import math
import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from trueup.cli.amounts import change, degrees, fine_length, length, metres
from trueup.cli.wording.beyond import BEYOND
from trueup.cli.wording.conflicts import CONFLICTS
from trueup.cli.wording.earlier import EARLIER
from trueup.cli.wording.findings import FINDINGS
from trueup.cli.wording.kinds import kind_in_words
from trueup.cli.wording.refusals import NOUGHT, REFUSALS
from trueup.cli.wording.remedies import REMEDIES
from trueup.cli.wording.sheets import SHEETS
from trueup.cli.wording.spoken.places import corner_in_words, place_in_words
from trueup.geometry.errors import GeometryError
from trueup.geometry.said import Fact, Said
from trueup.geometry.units import Unit, format_length
from trueup.lineage.errors import WardrobeError

SENTENCES: Mapping[str, str] = MappingProxyType(
    {**FINDINGS, **CONFLICTS, **REMEDIES, **REFUSALS, **SHEETS, **BEYOND}
)
"""Every sentence by its name. `{length:mm}` is a length, `{gap:fine}` a small one,
`{by:change}` one with its sign, `{at:most}` and `{at:least}` a limit never rounded beyond itself,
`{far:metres}` a great length, `{ease:has}` how much ease a part has, `{turn:degrees}` an angle,
`{turn:beyond}` one that lies beyond its limits, `right` by a `slack` or `allowed`, and is told so,
`{own:kind}` a kind of change as a maker says it, `{at:place}` a place on a line, `{corner:point}`
the name of a corner, `{name}` a word; `{0}` is the first of the other sentences in it, `{*}` all of
them after it, and `{+}` all of them end to end.
"""

_FIELD = re.compile(r"\{(\w+|[*+])(?::(\w+))?\}")

_WRITERS: Mapping[str, Callable[[float, Unit], str]] = MappingProxyType(
    {
        "mm": length,
        "change": change,
        "most": lambda mm, unit: format_length(mm, unit, math.trunc),
        "least": lambda mm, unit: format_length(mm, unit, math.ceil),
        "fine": fine_length,
        "metres": metres,
        "has": lambda mm, unit: (
            f"has {length(mm, unit)} of it"
            if mm >= 0
            else f"is {length(-mm, unit)} shorter than what it is sewn to"
        ),
        "degrees": lambda angle, _: degrees(angle),
    }
)


def worded(said: Said | str, unit: Unit) -> str:
    """Return a sentence in words; one that an earlier version wrote into a file is text already.

    Such text is told as it stands there, its lengths in mm, and so is what a file of another
    version says in other facts.
    """
    if isinstance(said, str):
        return said
    sentence = SENTENCES.get(said.what) or EARLIER.get(said.what)
    if sentence is None:
        return ", ".join([said.what, *(f"{name} {fact}" for name, fact in said.facts.items())])
    if said.what in NOUGHT and _comes_to_nothing(said, unit):
        sentence = SENTENCES[NOUGHT[said.what]]
    words = _FIELD.sub(lambda found: _fact(said, found[1], found[2], unit), sentence)
    return words.rstrip() if "{*}" in sentence else words


def worded_error(error: WardrobeError | GeometryError, unit: Unit | None = None) -> str:
    """Return what an error says, in a unit, or in the one it was met in."""
    return f"{worded(error.says, unit or Unit(error.unit))}."


def _comes_to_nothing(said: Said, unit: Unit) -> bool:
    """Return whether a limit is less than is ever told in a unit."""
    limits = [fact for fact in said.facts.values() if not isinstance(fact, str)]
    return all(format_length(limit, unit, math.trunc).startswith("0 ") for limit in limits)


def _fact(said: Said, name: str, form: str | None, unit: Unit) -> str:
    if name == "*":
        return " ".join(worded(each, unit) for each in said.also)
    if name == "+":
        return "".join(worded(each, unit) for each in said.also)
    if name.isdecimal():
        return worded(said.also[int(name)], unit) if int(name) < len(said.also) else "?"
    fact = said.facts.get(name, "?")
    if form == "beyond" and not isinstance(fact, str) and math.isfinite(fact):
        return degrees(fact, *_limits(said.facts))
    return _written(fact, form, unit)


def _limits(facts: Mapping[str, Fact]) -> list[float]:
    """Return between what an angle may be, as far as facts tell it."""
    right, slack, allowed = (facts.get(name) for name in ("right", "slack", "allowed"))
    limits = [allowed] if isinstance(allowed, float) else []
    if isinstance(right, float) and isinstance(slack, float):
        limits += [right - slack, right + slack]
    return limits


def _written(fact: Fact, form: str | None, unit: Unit) -> str:
    if isinstance(fact, str) and form == "kind":
        return kind_in_words(fact)
    if isinstance(fact, str) and form == "place":
        return place_in_words(fact, unit)
    if isinstance(fact, str) and form == "point":
        return corner_in_words(fact)
    if isinstance(fact, str) or form is None or not math.isfinite(fact):
        return str(fact)
    return _WRITERS[form](float(fact), unit)
