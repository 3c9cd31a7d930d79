"""What makers write on lines, layers and pieces, as names of ours: the trade's own words."""

import re
import unicodedata
from collections.abc import Sequence

from trueup.lineage.drawings.seen.found import Looks
from trueup.lineage.files.reading import is_name

_MACHINE = re.compile(
    r"(?:path|rect|polygon|polyline|line|circle|ellipse|text|tspan|use|g|svg|layer|group|groupe|"
    r"gruppe|ebene|calque|capa|figure|axes|patch|line2d|surface|symbol|shape|object|outline|"
    r"point|s|x|xml|root|page|drawing|pattern|clip|defs)?[\s_.-]*[0-9]*(?:[-_.][0-9]+)*",
    re.IGNORECASE,
)
_EDGES = {
    "neck": "neck",
    "neckline": "neck",
    "shoulder": "shoulder",
    "armhole": "armhole",
    "armscye": "armhole",
    "side": "side",
    "hem": "hem",
    "hemline": "hem",
    "waist": "waist",
    "waistline": "waist",
    "centre": "centre",
    "center": "centre",
    "cf": "centre",
    "cb": "centre",
    "cap": "cap",
    "inseam": "inseam",
    "crotch": "crotch",
}
_LEVELS = ("chest", "bust", "waist", "hip", "biceps", "elbow", "wrist", "knee", "crotch")
_PIECES = {
    "front": "front",
    "back": "back",
    "sleeve": "sleeve",
    "collar": "collar",
    "cuff": "cuff",
    "yoke": "yoke",
    "pocket": "pocket",
    "facing": "facing",
    "waistband": "waistband",
    "band": "band",
}
_BELOW = {"skirt": "skirt", "trouser": "trouser", "trousers": "trouser", "pants": "trouser"}
_GRAIN = frozenset(("grain", "grainline"))
_FOLD = frozenset(("fold", "foldline"))
_HOLE = frozenset(("drill", "drills", "hole", "holes", "punch"))


def words_in(text: str) -> list[str]:
    """Return the words of a text, small."""
    return re.findall(r"[a-z]+[0-9]*", text.lower())


def says_something(text: str) -> bool:
    """Return whether a name was given by a person: a program calls its lines path12, layer1."""
    return bool(text.strip()) and not _MACHINE.fullmatch(text.strip())


def as_name(text: str) -> str | None:
    """Return a name of ours for what someone wrote, None where there is none in it."""
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    name = "-".join(re.findall(r"[a-z0-9]+", plain.lower()))[:40].strip("-")
    return name if name and name[0].isalpha() and is_name(name) else None


def edge_word(texts: Sequence[str]) -> str | None:
    """Return the edge that the first telling of some texts names, None where none does."""
    for text in texts:
        if not says_something(text):
            continue
        tail = text.rpartition(".")[2]
        words = [word for word in words_in(tail) if word in _EDGES]
        if words and len(words_in(tail)) <= 4:
            return _EDGES[words[0]]
    return None


def level_word(texts: Sequence[str]) -> str | None:
    """Return the level of the body that some texts name."""
    for text in texts:
        found = [level for level in _LEVELS if level in words_in(text)]
        if found and len(words_in(text)) <= 3:
            return found[0]
    return None


def piece_word(text: str) -> str | None:
    """Return the piece a text names: front, back, skirt-front; None where it names none."""
    found = words_in(text.partition(":")[2] if "name:" in text.lower() else text)
    pieces = [_PIECES[word] for word in found if word in _PIECES]
    below = [_BELOW[word] for word in found if word in _BELOW]
    if not pieces:
        return None
    if below and pieces[0] in ("front", "back"):
        return f"{below[0]}-{pieces[0]}"
    return pieces[0]


def below_word(text: str) -> str | None:
    """Return what a text says is worn below the waist: skirt or trouser."""
    return next((_BELOW[word] for word in words_in(text) if word in _BELOW), None)


def looks_by_words(names: Sequence[str]) -> Looks | None:
    """Return what a line on a piece is by what is written on it."""
    for text in names:
        found = set(words_in(text))
        if found & _GRAIN:
            return Looks.GRAIN
        if "notch" in found or "notches" in found:
            return Looks.NOTCH
        if found & _HOLE:
            return Looks.HOLE
    return Looks.LEVEL if level_word([n for n in names if says_something(n)]) else None


def says_fold(texts: Sequence[str]) -> bool:
    """Return whether a text says that there is a fold."""
    return any(set(words_in(text)) & _FOLD for text in texts)
