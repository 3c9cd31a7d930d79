"""Lines as they are spoken of, and what was seen on a worn garment: what, and where."""

_EDGES = {"side": "side seam"}
_SEEN = {"other": "something else"}


def line_in_words(piece: str, edge: str) -> str:
    """Return a line as it is spoken of, a piece without one.

    >>> line_in_words("front", "side"), line_in_words("sleeve", "")
    ('the front side seam', 'the sleeve')
    """
    names = [piece, _EDGES.get(edge, edge)] if edge else [piece]
    words = " ".join(name.replace("-", " ") for name in names if name)
    return f"the {words}" if words else "the pattern"


def symptom_in_words(symptom: str) -> str:
    """Return a word of the vocabulary as it is spoken: `neck gapes`."""
    return symptom.replace("-", " ")


def seen_in_words(symptom: str, place: str) -> str:
    """Return what was seen and where, no word of it twice.

    >>> seen_in_words("neck-gapes", "front.neck"), seen_in_words("hip-tight", "hip")
    ('front neck gapes', 'hip tight')
    >>> seen_in_words("short-all-round", "front.hem")
    'short all round at the front hem'
    >>> seen_in_words("other", "front.neck")
    'something else at the front neck'
    """
    piece, _, edge = place.partition(".")
    seen = (_SEEN.get(symptom) or symptom_in_words(symptom)).split()
    where = line_in_words(piece, edge).split()
    for count in range(len(seen) - 1, 0, -1):
        if seen[:count] == where[-count:]:
            return " ".join((*where[1:], *seen[count:]))
    return " ".join((*seen, "at", *where))
