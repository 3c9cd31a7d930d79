"""The measures as a table, read back as any spreadsheet would."""

import csv
import io

from tests.builders import block
from trueup.cli.exporting.measures_csv import measures_csv
from trueup.geometry.measuring.measures import measures
from trueup.geometry.units import Unit


def test_every_measure_is_a_line_with_millimetres_and_the_makers_unit():
    found = measures(block())
    rows = list(csv.reader(io.StringIO(measures_csv(found, Unit.INCH).decode("utf-8"))))
    assert rows[0] == ["measure", "mm", "as read"]
    assert {name: float(mm) for name, mm, _ in rows[1:]} == {
        name: round(value, 6) for name, value in found.items()
    }


def test_inches_are_fractions_and_a_comma_in_a_name_stays_in_its_column():
    text = measures_csv({"front.shoulder": 123.825, "a,b": -12.7}, Unit.INCH).decode("utf-8")
    rows = list(csv.reader(io.StringIO(text)))[1:]
    assert rows == [["front.shoulder", "123.825", "4 7/8 in"], ["a,b", "-12.7", "-1/2 in"]]
