"""The key of what is kept knows all that can change an answer."""

import os
import shutil
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest
import shapely

from tests.checkout import IMPORTS
from trueup.lineage.evaluation.cache import program as module
from trueup.lineage.evaluation.cache.libraries import geos, said_of
from trueup.lineage.evaluation.cache.program import (
    FLOORS,
    LIBRARIES,
    code_of,
    looks_of,
    program,
    program_here,
)

ROOT = Path(__file__).parents[4]

WITHOUT_A_SAY = {
    "filelock",  # who may write when
    "typing-extensions",  # names for types
}
"""Distributions that evaluation loads and that compute nothing."""


@pytest.fixture(scope="module")
def loaded() -> dict[str, str]:
    """The modules that reading and evaluating load, with the file of each."""
    lines = (
        "import sys\n"
        "at_the_start = {*sys.modules}\n"  # a Python may have hooks that load what it likes
        "import trueup.geometry.changes, trueup.geometry.drafting\n"
        "import trueup.lineage.evaluation.evaluate, trueup.lineage.loading\n"
        "import trueup.lineage.evaluation.ahead, trueup.lineage.evaluation.starting\n"
        "from trueup.lineage.files.reading import read_settings\n"
        "read_settings('wardrobe.toml', b'format = 1\\nname = \"a\"\\nunit = \"mm\"\\n')\n"
        "for name in sorted(sys.modules.keys() - at_the_start):\n"
        "    print(name, getattr(sys.modules[name], '__file__', None) or '-')"
    )
    done = subprocess.run(
        [sys.executable, "-c", lines],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": IMPORTS},
        capture_output=True,
        text=True,
        check=True,
    )
    return dict(line.split(" ", 1) for line in done.stdout.splitlines())


def test_it_is_told_by_its_code():
    assert program() == program.__wrapped__()
    assert len(program() or b"") == 32
    assert program_here() == program_here.__wrapped__() != program()
    assert len(program_here() or b"") == 32


def test_another_line_in_any_module_that_evaluates_makes_it_another(
    loaded: dict[str, str], tmp_path: Path
):
    for floor in FLOORS:
        shutil.copytree(ROOT / floor, tmp_path / floor)
    before, looked = code_of(tmp_path), looks_of(tmp_path)
    assert before == code_of(ROOT)
    own = [
        Path(file).resolve().relative_to(ROOT)
        for file in loaded.values()
        if file != "-" and Path(file).resolve().is_relative_to(ROOT) and "site-packages" not in file
    ]
    names = {str(path) for path in own}
    assert {
        "lineage/drawings/tracing/trace.py",
        "geometry/lines/cubic.py",
        "lineage/evaluation/evaluate.py",
    } <= names
    for path in own:
        content = (tmp_path / path).read_bytes()
        (tmp_path / path).write_bytes(content + b"\n")
        assert code_of(tmp_path) != before, path
        assert looks_of(tmp_path) != looked, path
        (tmp_path / path).write_bytes(content)
        looked = looks_of(tmp_path)
    (tmp_path / "geometry" / "lines" / "cubic.py").rename(
        tmp_path / "geometry" / "lines" / "curve.py"
    )
    assert code_of(tmp_path) != before
    assert looks_of(tmp_path) != looked


def test_a_link_among_the_code_leads_nowhere(tmp_path: Path):
    for floor in FLOORS:
        (tmp_path / floor).mkdir()
        (tmp_path / floor / "kept.py").touch()
    before, looked = code_of(tmp_path), looks_of(tmp_path)
    (tmp_path / FLOORS[0] / "round").symlink_to(tmp_path / FLOORS[0])
    assert (code_of(tmp_path), looks_of(tmp_path)) == (before, looked)


def test_code_of_the_same_length_and_day_looks_otherwise(tmp_path: Path):
    for floor in FLOORS:
        (tmp_path / floor).mkdir()
        (tmp_path / floor / "kept.py").write_text("A = 1\n", "utf-8")
    file = tmp_path / FLOORS[0] / "kept.py"
    before, was = looks_of(tmp_path), file.stat()
    for attempt in range(1_000):  # until the clock of the disk has moved on
        file.write_text(f"A = {attempt % 10}\n", "utf-8")
        os.utime(file, ns=(was.st_atime_ns, was.st_mtime_ns))
        if file.stat().st_ctime_ns != was.st_ctime_ns:
            break
    assert file.stat().st_mtime_ns == was.st_mtime_ns
    assert looks_of(tmp_path) != before


def test_its_code_is_part_of_what_the_program_is_told_by(monkeypatch: pytest.MonkeyPatch):
    before, here = program(), program_here()
    monkeypatch.setattr(module, "code_of", lambda _: b"another")
    monkeypatch.setattr(module, "looks_of", lambda _: b"another")
    assert program.__wrapped__() != before
    assert program_here.__wrapped__() != here


def test_it_knows_the_version_of_every_library_that_evaluates(loaded: dict[str, str]):
    of = metadata.packages_distributions()
    used = {
        distribution.lower().replace("_", "-")
        for name, file in loaded.items()
        if "site-packages" in file
        for distribution in of.get(name.split(".")[0], [])
    }
    assert {"numpy", "shapely", "fonttools", "msgspec"} <= used
    assert used - WITHOUT_A_SAY == set(LIBRARIES)


@pytest.mark.parametrize("name", LIBRARIES)
def test_what_is_said_of_a_library_is_all_that_its_distribution_says(name: str):
    with open(metadata.distribution(name).locate_file("x").parent / _said_in(name)) as file:
        assert said_of([name]) == [file.read()]


def _said_in(name: str) -> Path:
    files = metadata.files(name) or []
    return Path(next(str(each) for each in files if each.match("*.dist-info/METADATA")))


@pytest.mark.parametrize("name", LIBRARIES)
def test_another_version_of_a_library_makes_it_another(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    before, said = program(), said_of([name])[0]
    newer = tmp_path / f"{name}-99.dist-info"
    newer.mkdir()
    version = f"Version: {metadata.version(name)}"
    assert version in said
    monkeypatch.syspath_prepend(tmp_path)
    (newer / "METADATA").write_text(said, "utf-8")
    assert program.__wrapped__() == before
    (newer / "METADATA").write_text(said.replace(version, f"{version}.1"), "utf-8")
    assert program.__wrapped__() != before


def test_a_library_that_was_not_installed_from_a_wheel_is_known_as_well(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    (tmp_path / "village_wares-1.0.egg-info").mkdir()
    (tmp_path / "village_wares-1.0.egg-info" / "PKG-INFO").write_text("Name: village-wares\n")
    monkeypatch.syspath_prepend(tmp_path)
    assert said_of(["village-wares"]) == ["Name: village-wares\n"]


def test_another_python_or_geos_makes_it_another(monkeypatch: pytest.MonkeyPatch):
    before = program()
    for target, another in (
        ("sys.version", "x"),
        ("trueup.lineage.evaluation.cache.program.geos", lambda: "x"),
        ("platform.machine", lambda: "x"),
    ):
        with monkeypatch.context() as patch:
            patch.setattr(target, another)
            assert program.__wrapped__() != before, target


@pytest.fixture
def shapely_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no library lie beside shapely, as where it was built on the machine."""
    is_folder = os.path.isdir
    monkeypatch.setattr(
        "os.path.isdir", lambda path: is_folder(path) and not str(path).endswith("shapely.libs")
    )


def test_a_geos_that_shapely_brings_is_known_by_its_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    (tmp_path / "shapely").mkdir()
    (tmp_path / "shapely" / "__init__.py").touch()
    (tmp_path / "shapely.libs").mkdir()
    brought = tmp_path / "shapely.libs" / "libgeos-5d1c0ffe.so.3.13.1"
    brought.touch()
    monkeypatch.syspath_prepend(tmp_path)
    assert geos() == brought.name
    brought.rename(brought.with_name("libgeos-0ddba11e.so.3.13.1"))
    assert geos() != brought.name


@pytest.mark.usefixtures("shapely_alone")
def test_the_geos_that_is_asked_is_the_one_that_shapely_computes_with():
    assert geos() == shapely.geos_capi_version_string


@pytest.mark.usefixtures("shapely_alone")
def test_where_the_library_does_not_answer_shapely_is_asked(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr("trueup.lineage.evaluation.cache.libraries.EXTENSION_SUFFIXES", [".none"])
    assert geos() == shapely.geos_capi_version_string


def test_without_its_sources_or_versions_it_cannot_tell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    with monkeypatch.context() as patch:
        patch.setattr(module, "_ROOT", tmp_path)
        assert program.__wrapped__() is None
    monkeypatch.setattr(module, "LIBRARIES", ("no-such-library",))
    assert program.__wrapped__() is None
