"""A small wardrobe on the disk, made once and copied for each test."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.lineage.making import BODY, change
from tests.lineage.stepping import done
from tests.sharing.copied import copied
from trueup.lineage.files.records import BlockDraft, ParentRecord, Role
from trueup.lineage.wardrobe import Wardrobe


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small wardrobe, made once: copy it."""
    folder = tmp_path_factory.mktemp("made") / "wardrobe"
    with Wardrobe.start(folder, "Village store", "mm") as wardrobe:
        done(wardrobe.propose_block("village", BlockDraft("bust-proportion", BODY)), wardrobe)
        for name, parent in (("blouse", "village"), ("short", "blouse"), ("flat", "village")):
            done(wardrobe.propose_child(name, [ParentRecord(parent)]), wardrobe)
        lower = change("lower-neck", piece="front", by="20mm")
        done(wardrobe.propose_steps("blouse", [lower], Role.STYLE, "a summer blouse"), wardrobe)
        done(wardrobe.propose_steps("flat", [change("raise-cap", by="-3mm")], Role.STYLE), wardrobe)
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    return copied(made, tmp_path / "wardrobe")


@pytest.fixture
def wardrobe(folder: Path) -> Iterator[Wardrobe]:
    with Wardrobe.open(folder) as opened:
        yield opened
