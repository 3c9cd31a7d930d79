"""What there is to say of something found, as facts: which sentence, and what stands in it.

The words are in `cli/wording`, by the same names, and so is the unit in which a length is read.
"""

from msgspec import Struct

Fact = float | str


class Said(Struct, frozen=True):
    """A sentence by its name, with its facts: lengths in mm, angles in degrees, names.

    `also` are other sentences that stand in it, or after it.
    """

    what: str
    facts: dict[str, Fact] = {}
    also: tuple["Said", ...] = ()


def said(what: str, *also: Said, **facts: Fact) -> Said:
    """Return a sentence with its facts, numbers to the hundredth.

    >>> said("legs", dart="front.bust", first=81.2345).facts
    {'dart': 'front.bust', 'first': 81.23}
    """
    kept = {n: fact if isinstance(fact, str) else round(fact, 2) for n, fact in facts.items()}
    return Said(what, kept, also)
