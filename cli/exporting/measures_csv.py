"""Measures as a table for spreadsheets: name, millimetres, and as the maker reads it.

Format: RFC 4180, Common Format and MIME Type for Comma-Separated Values (CSV) Files.
"""

import csv
import io
from collections.abc import Mapping

from trueup.cli.json.forms import mm
from trueup.geometry.units import Unit, format_length


def measures_csv(measures: Mapping[str, float], unit: Unit) -> bytes:
    """Return measures (mm, by name) as the content of a CSV file with a line of headings.

    The second column is millimetres as a plain number, to a millionth; the third is the length in
    `unit` as it is written everywhere else, inches as fractions.
    """
    text = io.StringIO(newline="")
    table = csv.writer(text)
    table.writerow(("measure", "mm", "as read"))
    for name, value in measures.items():
        table.writerow((name, mm(value), format_length(value, unit)))
    return text.getvalue().encode("utf-8")
