"""What there is to say of something found or refused, as facts: which sentence, and what is in it.

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

    def __str__(self) -> str:
        """Return name and facts, for who reads it below the command line; lengths in mm."""
        if self.what in ("text", "parts"):
            return "".join([*map(str, self.facts.values()), *map(str, self.also)])
        facts = ", ".join(f"{name} {_plain(fact)}" for name, fact in self.facts.items())
        whole = f"{self.what} ({facts})" if facts else self.what
        return f"{whole}: {'; '.join(map(str, self.also))}" if self.also else whole


def said(what: str, *also: Said, **facts: Fact) -> Said:
    """Return a sentence with its facts, numbers to the hundredth.

    >>> said("legs", dart="front.bust", first=81.2345).facts
    {'dart': 'front.bust', 'first': 81.23}
    >>> str(said("with-amount", said("seam-on-end"), by=12.0))
    'with-amount (by 12): seam-on-end'
    """
    kept = {n: fact if isinstance(fact, str) else round(fact, 2) for n, fact in facts.items()}
    return Said(what, kept, also)


def text(words: Said | str) -> Said:
    """Return a text as it stands, a name or what somebody wrote; facts stay what they are."""
    return words if isinstance(words, Said) else said("text", text=words)


def parts(*each: Said | str) -> Said:
    """Return one sentence of facts and of text, end to end.

    >>> str(parts("On blouse: ", said("seam-on-end")))
    'On blouse: seam-on-end'
    """
    return said("parts", *map(text, each))


def _plain(fact: Fact) -> str:
    return fact if isinstance(fact, str) else f"{fact:g}"
