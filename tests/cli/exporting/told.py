"""What is told of a draft in words, for tests that are about its geometry."""

import datetime

from cli.sheet.facts import Facts, Version
from geometry.draft import Draft
from geometry.measures import measures
from geometry.units import Unit
from lineage.records import ConflictRecord


def facts_about(draft: Draft, *conflicts: ConflictRecord) -> Facts:
    version = Version("1234567890abcdef", datetime.date(2025, 3, 31))
    unit = Unit.CENTIMETRE
    return Facts("blouse", "pattern", "village", version, unit, measures(draft), conflicts)
