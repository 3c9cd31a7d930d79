"""What was read and evaluated before, kept under the user's own cache folder.

Never in a wardrobe: a wardrobe may come from a stranger. Everything is keyed by the content it
follows from, so nothing in it can be out of date, and anyone may delete it: that costs time only.
"""

from trueup.lineage.evaluation.cache.file_cache import FileCache
from trueup.lineage.evaluation.cache.protocol import Cache, NoCache

__all__ = ["Cache", "FileCache", "NoCache"]
