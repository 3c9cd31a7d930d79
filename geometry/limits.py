"""Every bound on what is measured and drawn, each with its reason.

Each line reads "so many of what; why", as those of `lineage/limits.py` do.
"""

LARGEST_LENGTH = 10_000.0
"""mm of a length, either way; more than the hem of the fullest skirt or the longest train, so that
anything beyond is a slipped decimal or a wrong unit."""

LONGEST_LENGTH = 64
"""characters of a length as it is written; no length anyone means takes more."""

LONGEST_DRAWN = 1_000
"""characters of the points of a line drawn by hand; the most points there may be take less."""

MOST_CURVES = 1_000
"""curves of one line that is cut finer; each of fifty changes to it adds eight."""

LONGEST_AMOUNT = 120
"""characters of an amount bound to the body; what pattern drafts write is far shorter."""

DEEPEST_AMOUNT = 8
"""brackets within brackets of such an amount; drafts need two."""
