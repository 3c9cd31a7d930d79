"""A wardrobe opened again is told from what was kept, and is the one that reading would give."""

import random
from pathlib import Path

import pytest

from tests.lineage.making import block, child, step
from tests.lineage.test_loading import SETTINGS, Shelf, blob_id, files, loader
from trueup.lineage.evaluation.cache import FileCache
from trueup.lineage.files.kept.nodes import KeptNodes
from trueup.lineage.files.records import (
    ConflictKind,
    ConflictRecord,
    NodeRecord,
    ParentRecord,
    replace,
)
from trueup.lineage.files.state import State
from trueup.lineage.files.writing import node_text
from trueup.lineage.loading import Content

PATTERNS = [child(f"p{n}", of="village" if n < 3 else f"p{n % 3}") for n in range(30)]
FIRST = files(block(), *PATTERNS)


@pytest.fixture
def shelf() -> Shelf:
    return Shelf(first=FIRST)


def waiting_at(name: str) -> ConflictRecord:
    """Return a conflict that waits for a decision at a node."""
    return ConflictRecord(f"seam-{name}", ConflictKind.SEAM, name, "sleeve", "cap", "seam", "short")


def record(shelf: Shelf, name: str, recorded: dict[str, bytes]) -> None:
    shelf.versions[name] = recorded
    shelf.blobs |= {blob_id(content): content for content in recorded.values()}


def opened(shelf: Shelf, cache: Path, version: str, edits: dict[str, Content] | None = None):
    """Return the latest version as a command reads it, and what it read of git for that."""
    shelf.was_read.clear()
    kept = FileCache(cache)
    found = loader(shelf, kept).latest(version, edits or {})
    kept.close()
    return found


def told(state: State) -> tuple[object, ...]:
    """Return all that a state says."""
    graph = sorted(state.graph.edges)
    return (
        state.settings, dict(state.nodes.items()), state.garments, state.bodies,
        {path: str(error) for path, error in state.unreadable.items()}, state.in_order, graph,
        state.are_parents, state.conflicts, state.kin, state.below(["village"]),
    )  # fmt: skip


def test_who_opens_it_again_reads_nothing(shelf: Shelf, tmp_path: Path):
    first = opened(shelf, tmp_path, "first")
    assert not isinstance(first.nodes, KeptNodes)
    assert shelf.was_read
    again = opened(shelf, tmp_path, "first")
    assert isinstance(again.nodes, KeptNodes)
    assert told(again) == told(first)
    assert shelf.was_read == []


def test_only_what_a_step_wrote_is_read_after_it(shelf: Shelf, tmp_path: Path):
    opened(shelf, tmp_path, "first")
    longer = child("p7", step("s", "lengthen", by="10mm"), of="p1")
    record(shelf, "second", {**FIRST, longer.path: node_text(longer)})
    second = opened(shelf, tmp_path, "second")
    assert shelf.was_read == [blob_id(node_text(longer))]
    assert second.nodes["p7"] == longer
    assert told(second) == told(loader(shelf).at("second"))


def _another(chance: random.Random, recorded: dict[str, bytes]) -> tuple[str, Content]:
    """Return a file of a wardrobe, and something else that it may hold."""
    name = f"p{chance.randrange(32)}"
    path, other = f"patterns/{name}.toml", f"p{chance.randrange(34)}"
    of = "village" if chance.random() < 0.5 else other
    node = child(name, step("s", "lengthen", by=f"{chance.randrange(1, 90)}mm"), of=of)
    parents = [ParentRecord("village", ("front",)), ParentRecord("p0", ("back",))]
    anything: list[tuple[str, Content]] = [
        (path, node_text(node)),
        (path, node_text(NodeRecord(name, False, node.parents))),
        (path, node_text(child(name, of=parents))),
        (path, node_text(child(other, of="village"))),  # called otherwise than its file
        (path, b"["),
        (path, None),
        (f"blocks/{name}.toml", node_text(block(name))),
        ("blocks/village.toml", node_text(block("village", step("b", "lengthen", by="3mm")))),
        ("wardrobe.toml", SETTINGS.replace(b"cm", b"in")),
        ("photos/seen.jpg", b"jpeg"),
        ("garments/worn.toml", b"["),
        ("README.md", b"%d" % len(recorded)),
    ]
    return chance.choice(anything)


@pytest.mark.parametrize("seed", range(40))
def test_it_is_the_wardrobe_that_reading_all_of_it_gives(shelf: Shelf, tmp_path: Path, seed: int):
    """Whatever is recorded, or edited by hand and not recorded, over whatever was kept before."""
    chance = random.Random(seed)
    recorded, name = dict(FIRST), "first"
    for turn in range(8):
        for _ in range(chance.choice((0, 1, 1, 3))):
            path, content = _another(chance, recorded)
            recorded.pop(path, None)
            if isinstance(content, bytes):
                recorded[path] = content
        name = f"version {turn}"
        record(shelf, name, dict(sorted(recorded.items())))
        edits = dict(_another(chance, recorded) for _ in range(chance.choice((0, 0, 1, 2))))
        read = loader(shelf).at(name, edits)
        assert told(opened(shelf, tmp_path, name, edits)) == told(read), (turn, edits)


def test_a_forged_file_is_not_kept_for_the_true_one(shelf: Shelf, tmp_path: Path):
    true = FIRST["wardrobe.toml"]
    shelf.blobs[blob_id(true)] = true.replace(b"cm", b"in")
    assert opened(shelf, tmp_path, "first").settings.unit == "in"
    shelf.blobs[blob_id(true)] = true
    assert opened(shelf, tmp_path, "first").settings.unit == "cm"


def test_a_node_whose_row_is_gone_is_read_where_it_lies(shelf: Shelf, tmp_path: Path):
    opened(shelf, tmp_path, "first")
    kept = FileCache(tmp_path)
    found = loader(shelf, kept).latest("first")
    kept._rows.close()  # type: ignore[union-attr]
    shelf.was_read.clear()
    assert found.nodes["p9"] == PATTERNS[9]
    assert shelf.was_read == [blob_id(FIRST["patterns/p9.toml"])]


def test_nodes_are_there_for_who_closed_the_wardrobe(shelf: Shelf, tmp_path: Path):
    opened(shelf, tmp_path, "first")
    found = opened(shelf, tmp_path, "first")
    assert dict(found.nodes.items()) == {"village": block(), **{n.name: n for n in PATTERNS}}
    assert shelf.was_read == []


def test_an_earlier_state_stays_as_it_was(shelf: Shelf, tmp_path: Path):
    cache = FileCache(tmp_path)
    of = loader(shelf, cache)
    of.latest("first")
    first = of.latest("first")
    longer = child("p7", step("s", "lengthen", by="10mm"), of="p1")
    record(shelf, "second", {**FIRST, longer.path: node_text(longer)})
    second = of.latest("second")
    assert (first.nodes["p7"], second.nodes["p7"]) == (PATTERNS[7], longer)
    cache.close()


def test_how_many_conflicts_wait_is_known_without_reading_their_nodes(shelf: Shelf, tmp_path: Path):
    torn = [replace(PATTERNS[n], conflicts=(waiting_at(f"p{n}"),)) for n in range(20)]
    record(shelf, "torn", files(block(), *torn, *PATTERNS[20:]))
    read = opened(shelf, tmp_path, "torn")
    kept = FileCache(tmp_path)
    found = loader(shelf, kept).latest("torn")
    assert isinstance(found.nodes, KeptNodes)
    assert found.waiting == len(read.open_conflicts) == 20
    first = found.first_open_conflicts(2)
    assert first == read.open_conflicts[:2]
    assert [name for name, node in found.nodes._nodes.items() if node is not None] == [
        each.arose_at for each in first
    ]
    assert found.open_conflicts == read.open_conflicts
    kept.close()
