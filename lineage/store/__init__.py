"""Keep a wardrobe's files in a git repository, one commit a step.

The only place that touches git. It knows files and versions, and nothing of patterns.
"""

from trueup.lineage.store.disk import DiskLook, HandEdit
from trueup.lineage.store.git.history import Commit
from trueup.lineage.store.repository import Store

__all__ = ["Commit", "DiskLook", "HandEdit", "Store"]
