"""trueup export: each format written whole, by the real command."""

import csv
import io
import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from tests.cli.sheet.pdf import read
from trueup.cli.exporting.formats import FORMATS
from trueup.cli.sheet.ink.drawn import InkPen


@pytest.mark.parametrize("suffix", FORMATS)
def test_every_format_is_written_in_full_and_not_over_another_file(
    trueup: Any, tmp_path: Path, suffix: str
) -> None:
    file = tmp_path / f"blouse{suffix}"
    answer = trueup.made("export", "blouse", str(file))
    assert f"blouse{suffix}" in " ".join(answer.out.split())
    assert file.stat().st_size > 1000
    file.write_text("mine")
    answer = trueup("export", "blouse", str(file))
    assert answer.code == 2
    assert "--force" in answer.err
    assert file.read_text() == "mine"
    trueup.made("export", "blouse", str(file), "--force")
    assert file.stat().st_size > 1000
    assert list(tmp_path.glob(".trueup-*")) == []


def test_the_dxf_of_a_pattern_is_clean(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.DXF"
    trueup.made("export", "blouse", str(file))
    document = ezdxf.readfile(file)
    assert not document.audit().errors
    assert {"front", "back", "sleeve"} <= {each.name for each in document.blocks}


@pytest.mark.parametrize("unit", ["cm", "in", "mm"])
def test_a_pattern_with_a_conflict_open_is_exported_in_mm_whatever_the_unit(
    corrected: Any, tmp_path: Path, unit: str
) -> None:
    settings = corrected.folder / "wardrobe.toml"
    settings.write_text(settings.read_text().replace('unit = "cm"', f'unit = "{unit}"'))
    drawn, page, known = (tmp_path / f"own{suffix}" for suffix in (".dxf", ".pdf", ".json"))
    for file in (drawn, page, known):
        corrected.made("export", "own", str(file))
    document = ezdxf.readfile(drawn)
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    told = json.loads(known.read_text("utf-8"))
    assert any(finding["conflict"] for finding in told["findings"])
    (sleeve,) = (piece for piece in told["pieces"] if piece["name"] == "sleeve")
    edges = [edge["length_mm"] for edge in sleeve["edges"]]
    (ring,) = document.blocks.get("sleeve").query('POLYLINE[layer=="1"]')
    corners = [complex(*vertex.dxf.location.vec2) for vertex in ring.vertices]
    around = sum(abs(b - a) for a, b in pairwise([*corners, corners[0]]))
    assert around == pytest.approx(sum(edges), abs=0.05 * len(edges))
    (read_page,) = read(page.read_bytes())
    assert "OPEN CONFLICTS" in read_page.text
    lengths = [line.length for line in read_page.in_pen(InkPen.SEAM)]
    for edge in edges:
        assert min(abs(edge - length) for length in lengths) < 0.1


def test_the_csv_says_what_measure_says(trueup: Any, tmp_path: Path) -> None:
    file = tmp_path / "blouse.csv"
    trueup.made("export", "blouse", str(file))
    rows = list(csv.reader(io.StringIO(file.read_text("utf-8"))))[1:]
    measured = trueup.made("measure", "blouse", "--json").document["measures"]
    assert {name: float(mm) for name, mm, _ in rows} == measured


def test_the_json_says_what_measure_and_check_say(corrected: Any, tmp_path: Path) -> None:
    file = tmp_path / "own.json"
    corrected.made("export", "own", str(file))
    document = json.loads(file.read_text("utf-8"))
    assert document["measures"] == corrected("measure", "own", "--json").document["measures"]
    findings = corrected("check", "own", "--json").document["findings"]
    assert document["findings"] == findings
    assert findings


def test_an_earlier_version_is_exported_as_it_was(corrected: Any, tmp_path: Path) -> None:
    def fingerprint(name: str, *more: str) -> str:
        corrected.made("export", "village", str(tmp_path / name), *more)
        return str(json.loads((tmp_path / name).read_text("utf-8"))["fingerprint"])

    earlier = corrected.made("history", "--json").document["history"][-2]["commit"]
    assert fingerprint("then.json", "--as-of", earlier) != fingerprint("now.json")


@pytest.mark.parametrize("name", ["blouse", "blouse.doc", "blouse.svgz", "b.dxf.txt"])
def test_an_unknown_extension_is_told_the_known_ones(
    trueup: Any, tmp_path: Path, name: str
) -> None:
    answer = trueup("export", "blouse", str(tmp_path / name))
    assert answer.code == 2
    assert all(suffix in answer.err for suffix in FORMATS)
    assert list(tmp_path.glob("b*")) == []
