"""No regular expression of the program looks at a text again and again."""

from tests import bounded

GUARDED = {
    "trueup.geometry.changes.edges_and_seams.redraw_edge._POINT": (
        "never given more than LONGEST_DRAWN characters"
    ),
}

SEARCHES = [
    "_HYPHENED",
    "_MARKS",
    "_ADDRESS",
    "_AT_START",
    "_LOCKED",
    "_KILLED",
    "_INCLUDES",
    "_LONG_KEY",
]

LINES = """
    import importlib, itertools, pkgutil, re, sys
    import trueup.cli, trueup.geometry, trueup.lineage

    guarded, searches = sys.argv[1].split(), sys.argv[2].split()
    atoms = ["a", "1", " ", ".", "-", ",", "a-", "a.", "1 ", "1,", " ,", "a ", "=", "@", "%", ":",
        "1%:1 ", "(", "url ", "\\n", "\\n ", "=1 ", " from ", "1/", "mm ", "1 mm", "1 to ",
        "<", "_", "a=1@", "1e1", "{", "[", "a: ", '"', "'"]
    heads = ["", "a", "1", "a=", "1%:", "a=1@", "translate(", "1 from a"]
    tails = ["", "!", "a"]
    names = [
        found.name
        for package in (trueup.cli, trueup.geometry, trueup.lineage)
        for found in pkgutil.walk_packages(package.__path__, package.__name__ + ".")
        if not found.name.endswith("__main__")
    ]
    count = 0
    for name in names:
        for word, pattern in vars(importlib.import_module(name)).items():
            if not isinstance(pattern, re.Pattern) or f"{name}.{word}" in guarded:
                continue
            count += 1
            ways = [pattern.search] if word in searches else [pattern.match, pattern.fullmatch]
            for head, atom, tail in itertools.product(heads, atoms, tails):
                text = head + atom * (20_000 // len(atom)) + tail
                for way in ways:
                    way(text.encode() if isinstance(pattern.pattern, bytes) else text)
    print(count)
"""


def test_every_pattern_comes_to_its_end() -> None:
    assert int(bounded.python(LINES, " ".join(GUARDED), " ".join(SEARCHES))) > 25
