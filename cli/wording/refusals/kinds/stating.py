"""Why what is said of a line, a seam, a level or a dart cannot be so, and what would be."""

STATING = {
    "unpick-first": "take that seam out first, with unpick",
    "seam-of-cut": "along the {seam} a piece was cut apart",
    "join-parts-instead": "join the parts again, with join-parts",
    "seam-ends-there": "the {seam} is sewn to it",
    "move-it-instead": "move it, with move-mark",
    "write-level": (
        "write 'along hem', 'at underarm', 'at dart bust' or '200mm below waist', or say with none "
        "that there is no such level"
    ),
    "name-both-corners": "name the corner of the one with at, and of the other with meets",
    "meet-at-no-one-corner": "it and {to} have no one corner in common",
    "runs-on-nowhere": "nothing says that it runs on into {to} there",
    "lines-meet-twice": "nothing says at which of their two corners {one} runs on into {other}",
    "state-join-first": "state that first, with state-join",
    "no-v-there": "no V with straight legs that are alike runs into the cloth there",
    "add-dart-instead": "draw a dart with add-dart",
    "several-vs": "there are {many} of them on it",
    "say-which-by-at": "say with at where the one lies that is meant",
    "follows-by-seam": "the {piece} is drafted to what the {seam} sews it to",
}
"""Refusals of the kinds that state something of a draft."""
