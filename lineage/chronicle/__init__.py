"""What was done to a wardrobe, when, by whom and why, and what it did: read from its commits.

Effects and verdicts are worked out again from the versions before and after each commit, never
read from its text. Everything is found only when it is asked for.
"""

from trueup.lineage.chronicle.chronicle import Chronicle
from trueup.lineage.chronicle.entry import Entry
from trueup.lineage.chronicle.span import Span

__all__ = ["Chronicle", "Entry", "Span"]
