"""Facts in words: a sentence by its name, with its lengths in the wardrobe's unit."""

import math
import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from trueup.cli.amounts import change, fine_length, length, retold
from trueup.cli.wording.conflicts import CONFLICTS
from trueup.cli.wording.findings import FINDINGS
from trueup.cli.wording.remedies import REMEDIES
from trueup.geometry.said import Fact, Said
from trueup.geometry.units import Unit, format_length

SENTENCES: Mapping[str, str] = MappingProxyType({**FINDINGS, **CONFLICTS, **REMEDIES})
"""Every sentence by its name. `{length:mm}` is a length, `{gap:fine}` a small one,
`{by:change}` one with its sign, `{at:most}` and `{at:least}` a limit never rounded beyond itself,
`{turn:degrees}` an angle, `{name}` a word; `{0}` is the first of the other sentences in it, and
`{*}` all of them after it.
"""

_FIELD = re.compile(r"\{(\w+|\*)(?::(\w+))?\}")

_WRITERS: Mapping[str, Callable[[float, Unit], str]] = MappingProxyType(
    {
        "mm": length,
        "change": change,
        "most": lambda mm, unit: format_length(mm, unit, math.trunc),
        "least": lambda mm, unit: format_length(mm, unit, math.ceil),
        "fine": fine_length,
        "degrees": lambda angle, _: f"{angle:.1f} degrees",
    }
)


def worded(said: Said | str, unit: Unit) -> str:
    """Return a sentence in words; one that an earlier version wrote into a file is text already.

    What a file of another version says in other facts is told as it stands there.
    """
    if isinstance(said, str):
        return retold(said, unit)
    sentence = SENTENCES.get(said.what)
    if sentence is None:
        return ", ".join([said.what, *(f"{name} {fact}" for name, fact in said.facts.items())])
    return _FIELD.sub(lambda found: _fact(said, found[1], found[2], unit), sentence).rstrip()


def _fact(said: Said, name: str, form: str | None, unit: Unit) -> str:
    if name == "*":
        return " ".join(worded(each, unit) for each in said.also)
    if name.isdecimal():
        return worded(said.also[int(name)], unit) if int(name) < len(said.also) else "?"
    return _written(said.facts.get(name, "?"), form, unit)


def _written(fact: Fact, form: str | None, unit: Unit) -> str:
    if isinstance(fact, str) or form is None:
        return str(fact)
    return _WRITERS[form](float(fact), unit)
