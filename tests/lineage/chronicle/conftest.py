"""A wardrobe with a history worth reading: corrected, decided, taken back, cut and worn."""

import datetime
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.lineage.making import change
from tests.lineage.recording import record_files, undo
from tests.lineage.stepping import corrected, done, only_open
from tests.sharing.copied import copied, lend
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.files.garment_records import FitNote, GarmentRecord, Status
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.records import Role, replace
from trueup.lineage.proposal import Proposal
from trueup.lineage.wardrobe import Wardrobe

TODAY = datetime.date(2025, 3, 1)
Git = Callable[..., str]


@dataclass(frozen=True)
class Lived:
    """A wardrobe that was lived with, and each proposal it recorded, by its commit."""

    folder: Path
    proposals: dict[str, Proposal]


@pytest.fixture(scope="module")
def lived_in(made: Path, tmp_path_factory: pytest.TempPathFactory) -> Lived:
    folder = tmp_path_factory.mktemp("lived") / "wardrobe"
    copied(made, folder)
    proposals: dict[str, Proposal] = {}
    with Wardrobe.open(folder) as wardrobe:

        def record(proposal: Proposal) -> None:
            proposals[wardrobe.record(proposal)] = proposal

        cut = GarmentRecord("tea-dress", "short", wardrobe.head, TODAY, "linen", "Ana")
        record_files(wardrobe, {cut.path: garment_text(cut)}, "cut", "Cut tea-dress from short")
        scoop = change("scoop-armhole", piece="front", by="20mm")
        record(wardrobe.propose_steps("village", [scoop], Role.CORRECTION, "it binds"))
        step = wardrobe.state.node("village").steps[0].id
        record(wardrobe.propose_decision(only_open(wardrobe, "village"), "refit-cap", "set in"))
        record(wardrobe.propose_amend("village", step, {"by": "12mm"}, "a little less"))
        note = FitNote("n1", "armhole binds", "front.armhole", TODAY, wearer="Bea")
        worn = replace(cut, status=Status.WORN, notes=(note,))
        record_files(wardrobe, {cut.path: garment_text(worn)}, "note", "Note on tea-dress")
        mended = replace(worn, notes=(replace(note, resolved_by=(step,)),))
        record_files(wardrobe, {cut.path: garment_text(mended)}, "resolve", "Resolve n1")
        neck = change("lower-neck", piece="front", by="5mm")
        record(wardrobe.propose_steps("flat", [neck], Role.STYLE, "a whim"))
        undo(wardrobe)
        own = wardrobe.state.node("blouse").steps[0].id
        record(wardrobe.propose_drop("blouse", own, "high again"))
    return Lived(folder, proposals)


@pytest.fixture
def chronicle(lived_in: Lived, tmp_path: Path) -> Iterator[Chronicle]:
    folder = tmp_path / "lived"
    copied(lived_in.folder, folder)
    with Wardrobe.open(folder) as wardrobe:
        yield Chronicle(wardrobe)


@pytest.fixture
def clones(folder: Path, tmp_path: Path) -> tuple[Path, Path]:
    """Two makers' clones of one wardrobe, each with a step of its own on another node."""
    here, there = tmp_path / "here", tmp_path / "there"
    for place, name in ((here, "Ana"), (there, "Bea")):
        git(tmp_path, "clone", "-q", str(folder), str(place))
        lend(folder, place)
        git(place, "config", "user.name", name)
        git(place, "config", "user.email", f"{name.lower()}@example.org")
    with Wardrobe.open(here) as wardrobe:
        neck = change("lower-neck", piece="back", by="5mm")
        done(wardrobe.propose_steps("short", [neck], Role.STYLE, "cooler"), wardrobe)
    with Wardrobe.open(there) as wardrobe:
        corrected(wardrobe, "flat", change("scoop-armhole", piece="front", by="4mm"))
    return here, there


def git(folder: Path, *words: str) -> str:
    """Run the makers' own git."""
    done = subprocess.run(["git", *words], cwd=folder, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout.decode().rstrip("\n")


@pytest.fixture
def merged(clones: tuple[Path, Path]) -> Path:
    """The first clone after git itself merged the second into it."""
    here, there = clones
    git(here, "pull", "-q", "--no-rebase", "--no-edit", str(there), "main")
    return here


@pytest.fixture
def run_git() -> Git:
    return git
