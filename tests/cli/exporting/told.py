"""What is told of a draft in words, for tests that are about its geometry."""

import datetime

from trueup.cli.sheet.facts import Facts, PrintedVersion
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.units import Unit
from trueup.lineage.files.records import ConflictRecord


def facts_about(draft: Draft, *conflicts: ConflictRecord) -> Facts:
    version = PrintedVersion("1234567890abcdef", datetime.date(2025, 3, 31))
    unit = Unit.CENTIMETRE
    return Facts("blouse", "pattern", "village", version, unit, measures(draft), conflicts)
