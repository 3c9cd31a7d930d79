"""Every body of an open survey is drafted true by every system, or refused in one sentence.

The bodies are those of `bodies.csv`; `bodies.md` names the survey. What was not measured there is
taken by proportion from the worked sizes of the systems: a share of the height, or of the breadth
of the shoulders. A woman's bust is taken as 5 cm more than her chest above it (a B cup: common
practice, no source).

A sixth of the bodies is drafted; with TRUEUP_EVERY_BODY=1 in the environment all of them are.
"""

import csv
import os
from collections.abc import Mapping
from pathlib import Path

import pytest

from trueup.cli.wording.words import worded_error
from trueup.geometry.drafting import draft_block, system_named
from trueup.geometry.errors import BadParameter
from trueup.geometry.measuring.checks import check

ALL = list(csv.DictReader((Path(__file__).parent / "bodies.csv").open(encoding="utf-8")))
STEP = 1 if os.environ.get("TRUEUP_EVERY_BODY") else 6
WOMEN = [row for row in ALL if row["sex"] == "woman"]

FEW = 0.04
"""The largest share of bodies that a system refuses."""


def body(row: Mapping[str, str]) -> dict[str, float]:
    """Return all measurements that the systems ask for, mm."""
    taken = {name: float(row[name]) * 10 for name in ("height", "shoulders", "waist", "hip")}
    height, shoulders = taken["height"], taken["shoulders"]
    return {
        "waist": taken["waist"],
        "hip": taken["hip"],
        "bust": float(row["chest"]) * 10 + 50,
        "hip-depth": 0.125 * height,
        "skirt-length": 0.36 * height,
        "body-rise": 0.167 * height,
        "inside-leg": 0.46 * height,
        "trouser-hem": 0.46 * taken["hip"],
        "back-length": 0.248 * height,
        "armscye-depth": 0.127 * height,
        "sleeve-length": 0.354 * height,
        "neck": 0.3 * (float(row["chest"]) * 10 + 50) + 106,
        "shoulder": 0.336 * shoulders,
        "back-width": 0.943 * shoulders,
        "chest-width": 0.888 * shoulders,
    }


def drafted(system: str, rows: list[dict[str, str]]) -> list[str]:
    """Return why bodies were refused, after all others were drafted and found true."""
    asked = [each.name for each in system_named(system).measurements]
    refused = []
    for row in rows[::STEP]:
        taken = body(row)
        try:
            draft = draft_block(system, {name: taken[name] for name in asked})
        except BadParameter as why:
            refused.append(worded_error(why))
            continue
        assert check(draft) == (), row
    assert len(rows) > 200
    return refused


def one_sentence(told: str) -> bool:
    return told.endswith(".") and ". " not in told and " cannot be " in told


@pytest.mark.parametrize(
    ("system", "rows"),
    [
        ("bust-proportion", WOMEN),
        ("direct-measure", WOMEN),
        ("straight-skirt", WOMEN),
        ("trousers", ALL),
    ],
)
def test_surveyed_bodies_are_drafted_true(system: str, rows: list[dict[str, str]]) -> None:
    refused = drafted(system, rows)
    assert all(one_sentence(told) for told in refused), refused
    assert len(refused) <= FEW * len(rows) / STEP, refused
