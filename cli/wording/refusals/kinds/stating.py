"""Why what is said of a line, a seam, a level or a dart cannot be so, and what would be."""

STATING = {
    "unpick-first": "take that seam out first, with unpick",
    "seam-of-cut": "along the {seam} a piece was cut apart",
    "join-parts-instead": "join the parts again, with join-parts",
    "follows-by-seam": "the {piece} is drafted to what the {seam} sews it to",
}
"""Refusals of the kinds that state something of a draft."""
