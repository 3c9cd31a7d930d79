"""Keep a wardrobe's files in a git repository, one commit a step.

The only place that touches git. It knows files and versions, and nothing of patterns.
"""

from lineage.store.disk import HandEdit, Seen
from lineage.store.history import Commit
from lineage.store.repository import Store

__all__ = ["Commit", "HandEdit", "Seen", "Store"]
