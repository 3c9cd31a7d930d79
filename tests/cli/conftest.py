"""A small theatre's wardrobe, built once, and the real command run in a copy of it."""

import contextlib
import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.sharing.beginnings import Beginnings
from tests.sharing.copied import copied
from trueup.cli.main import main
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.units import Unit
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role
from trueup.lineage.proposal import Proposal
from trueup.lineage.wardrobe import Wardrobe

BODY = {"bust": "88cm", "waist": "68cm", "back-length": "38cm", "sleeve-length": "54cm"}


@dataclass(frozen=True)
class Answer:
    """What a command answered: its exit code, and what it wrote."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        return json.loads(self.out)


@dataclass(frozen=True)
class Trueup:
    """The command, run in one wardrobe's folder."""

    folder: Path

    def __call__(self, *words: str) -> Answer:
        return run("-C", str(self.folder), *words)

    def made(self, *words: str) -> Answer:
        answer = self(*words)
        assert answer.code == 0, answer.err
        return answer

    def contents(self) -> dict[str, bytes]:
        """Return every file of the wardrobe, and where its history stands."""
        kept = [p for p in self.folder.rglob("*") if p.is_file() and ".git" not in p.parts]
        found = {str(p.relative_to(self.folder)): p.read_bytes() for p in kept}
        return {**found, "HEAD": (self.folder / ".git/refs/heads/main").read_bytes()}

    def step_of(self, node: str, index: int = -1) -> str:
        with Wardrobe.open(self.folder) as wardrobe:
            return wardrobe.state.node(node).steps[index].id


def without_commands(document: Any) -> Any:
    """Return a document without the commands that it names: a preview can name none yet."""
    if isinstance(document, dict):
        return {k: without_commands(v) for k, v in document.items() if k != "command"}
    return [without_commands(each) for each in document] if isinstance(document, list) else document


def run(*words: str) -> Answer:
    """Run the command in this process."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    return Answer(code, out.getvalue(), err.getvalue())


def build(folder: Path) -> None:
    """Build the wardrobe: a block, a block derived from it, and three patterns."""
    with Wardrobe.start(folder, "theatre", "cm") as wardrobe:

        def record(proposal: Proposal) -> None:
            wardrobe.record(proposal)

        def step(node: str, kind: str, role: Role = Role.STYLE, **values: str) -> None:
            change = read_change(kind_named(kind), values, Unit.MILLIMETRE)
            record(wardrobe.propose_steps(node, [change], role, "as agreed"))

        record(wardrobe.propose_block("village", BlockDraft("bust-proportion", BODY)))
        record(wardrobe.propose_child("easy", [ParentRecord("village")], is_block=True))
        record(wardrobe.propose_child("blouse", [ParentRecord("easy")]))
        record(wardrobe.propose_child("vest", [ParentRecord("village", ("front", "back"))]))
        record(wardrobe.propose_child("own", [ParentRecord("village")]))
        step("easy", "shorten-shoulder", by="-5mm")
        step("blouse", "lower-neck", piece="front", by="20mm")
        step("vest", "redraw-edge", edge="front.armhole", through="30%:24mm 70%:40mm")
        step("own", "scoop-armhole", Role.CORRECTION, piece="front", by="4mm")


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("built") / "theatre"
    build(folder)
    return folder


@pytest.fixture(autouse=True)
def no_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let nothing of the terminal the tests run in show through."""
    for name in ("COLUMNS", "LINES", "NO_COLOR", "FORCE_COLOR", "TRUEUP_TRACEBACK"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture
def trueup(built: Path, tmp_path: Path) -> Trueup:
    """The command in a wardrobe of its own."""
    folder = tmp_path / "theatre"
    copied(built, folder)
    return Trueup(folder)


@pytest.fixture(scope="session")
def beginnings(tmp_path_factory: pytest.TempPathFactory) -> Beginnings:
    """What many tests begin with, done once."""
    return Beginnings(tmp_path_factory.mktemp("beginnings"))


@pytest.fixture
def corrected(trueup: Trueup, beginnings: Beginnings) -> Trueup:
    """The same after the village's armhole was hollowed, with the conflicts that brought."""

    def correct() -> None:
        trueup.made("correct", "village", "scoop-armhole", "--piece", "front", "--by", "20mm")

    beginnings.begin(trueup.folder, correct)
    return trueup


@pytest.fixture
def anywhere() -> Any:
    """The command without a folder named."""
    return run
