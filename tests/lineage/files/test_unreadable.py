"""What of a wardrobe cannot be read, and what stands without it."""

import subprocess
from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.lineage.making import BODY, block, change, child
from tests.lineage.stepping import LITTLE, corrected
from tests.lineage.test_loading import Shelf, blob_id, files
from tests.refusals import refusing
from trueup.lineage import errors
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.errors import (
    BadRecord,
    Cycle,
    Damaged,
    MissingParent,
    NameTaken,
    NoSuchConflict,
    NoSuchNode,
    StandsOnUnreadable,
    VerdictUnknown,
)
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.records import BlockDraft, NodeRecord, ParentRecord, Settings
from trueup.lineage.files.state import State
from trueup.lineage.files.unreadable import causes, sift
from trueup.lineage.files.writing import node_text
from trueup.lineage.garments.cutting import free_name
from trueup.lineage.limits import DEEPEST_LINEAGE
from trueup.lineage.loading import MOST_BROKEN, Loader
from trueup.lineage.versions import versions
from trueup.lineage.wardrobe import Wardrobe

GARBAGE = BadRecord("patterns/blouse.toml", "it is not TOML")
BROKEN = {"patterns/blouse.toml": GARBAGE}


def lost(*nodes: NodeRecord, **broken: Damaged) -> dict[str, type[Damaged]]:
    found = sift(nodes, {f"patterns/{name}.toml": error for name, error in broken.items()})
    assert set(found.nodes).isdisjoint(Path(path).stem for path in found.unreadable)
    return {Path(path).stem: type(error) for path, error in found.unreadable.items()}


def test_what_derives_from_an_unreadable_node_is_left_out_and_names_it():
    short, shorter, flat = child("short", of="blouse"), child("shorter", of="short"), child("flat")
    found = sift([block(), short, shorter, flat], BROKEN)
    assert set(found.nodes) == {"village", "flat"}
    error = found.unreadable["patterns/shorter.toml"]
    assert str(error) == (
        "patterns/shorter.toml cannot be worked out: it derives from short, and "
        "patterns/blouse.toml cannot be read: it is not TOML; mend the file, or put back its last "
        "version."
    )
    assert causes(found.unreadable) == (GARBAGE,)


def test_a_parent_that_is_not_there_takes_only_its_own_family_along():
    blouse, short = child("blouse", of="vilage"), child("short", of="blouse")
    found = lost(block(), child("flat"), blouse, short)
    assert found == {"blouse": MissingParent, "short": StandsOnUnreadable}


def test_a_ring_takes_along_what_derives_from_it_and_not_what_it_derives_from():
    ring = child("a", of=[ParentRecord("village"), ParentRecord("c")]), child("b", of="a")
    found = lost(block(), *ring, child("c", of="b"), child("d", of="c"), child("e"))
    assert found == {"a": Cycle, "b": Cycle, "c": Cycle, "d": StandsOnUnreadable}
    assert lost(block(), child("f", of="f")) == {"f": Cycle}


def test_a_long_ring_is_told_in_a_short_sentence():
    names = [f"n{number}" for number in range(500)]
    ring = [child(name, of=above) for name, above in zip(names, [*names[1:], "n0"], strict=True)]
    found = sift(ring, {})
    assert len(found.unreadable) == 500
    assert max(len(str(error)) for error in found.unreadable.values()) < 300


def test_two_nodes_of_one_name_are_both_left_out():
    twin = NodeRecord("flat", True, (ParentRecord("village"),))
    found = sift([block(), child("flat"), twin, child("low", of="flat")], {})
    assert set(found.nodes) == {"village"}
    assert "also in blocks/flat.toml" in str(found.unreadable["patterns/flat.toml"])
    assert "also in patterns/flat.toml" in str(found.unreadable["blocks/flat.toml"])


def test_a_broken_file_does_not_take_the_name_of_a_node_that_stands():
    error = BadRecord("patterns/village.toml", "it is not TOML")
    found = sift([block(), child("flat")], {error.place: error})
    assert set(found.nodes) == {"village", "flat"}
    assert State(Settings("x"), found.nodes, {}, found.unreadable).node("village") == block()


def test_what_stands_too_deep_hides_nothing_above_it():
    line = [child(f"n{deep}", of=f"n{deep - 1}") for deep in range(1, DEEPEST_LINEAGE + 3)]
    found = sift([NodeRecord("n0", True, draft=block().draft), *line], {})
    assert len(found.nodes) == DEEPEST_LINEAGE + 1
    assert isinstance(found.unreadable[line[-2].path], BadRecord)
    assert isinstance(found.unreadable[line[-1].path], StandsOnUnreadable)


@pytest.fixture
def state() -> State:
    found = sift([block(), child("flat"), child("short", of="blouse")], BROKEN)
    return State(Settings("Village store"), found.nodes, {}, found.unreadable)


def test_a_state_says_of_each_name_whether_it_stands_is_broken_or_is_not_there(state: State):
    assert state.has("flat")
    assert not state.has("cape")
    for name in ("blouse", "short"):
        with refusing(Damaged, match="blouse"):
            state.has(name)
        with refusing(Damaged, match="blouse"):
            state.node(name)
    with pytest.raises(NoSuchNode, match="blouse"):
        state.node("blous")
    with refusing(BadRecord, match="blouse"):
        state.require_whole()


def test_a_broken_file_keeps_its_name(state: State):
    assert state.path_of("blouse") == "patterns/blouse.toml"
    assert state.path_of("cape") is None
    broken = BadRecord("garments/flat-1.toml", "it is not TOML")
    with_garment = State(state.settings, state.nodes, {}, {broken.place: broken})
    assert free_name(with_garment, "flat") == "flat-2"


def test_a_conflict_that_is_not_found_may_be_in_what_cannot_be_read(state: State):
    with pytest.raises(NoSuchConflict, match=r"outside of patterns/blouse\.toml, .*cannot be read"):
        state.conflict("seam-1")


def test_a_state_without_a_node_is_without_what_derives_from_it():
    nodes = {node.name: node for node in (block(), child("blouse"), child("short", of="blouse"))}
    found = State(Settings("x"), nodes).without({"blouse": GARBAGE})
    assert set(found.nodes) == {"village"}
    assert set(found.lost_nodes) == {"blouse", "short"}


def test_what_cannot_be_evaluated_is_left_out_of_what_is_sound():
    small = BlockDraft("bust-proportion", {**BODY, "bust": "1cm"})
    tiny = NodeRecord("tiny", True, draft=small)
    odd = child("odd", of=[ParentRecord("village", ("cape",))])
    nodes = (block("village"), tiny, child("small", of="tiny"), odd, child("flat"))
    found = Evaluator(State(Settings("x"), {node.name: node for node in nodes})).sound()
    assert set(found.state.nodes) == {"village", "flat"}
    assert set(found.state.lost_nodes) == {"tiny", "small", "odd"}
    whole = Evaluator(State(Settings("x"), {"village": block()}))
    assert whole.sound() is whole


def gone(error: errors.WardrobeError) -> Evaluator:
    """A wardrobe in which one pattern stays on a version that git has no answer for."""

    def earlier(revision: str) -> Evaluator:
        raise error

    held = child("held", of=[ParentRecord("village", None, "1" * 40)])
    nodes = {node.name: node for node in (block(), held, child("flat"))}
    return Evaluator(State(Settings("x"), nodes), earlier=earlier)


def test_a_pattern_that_stays_on_a_version_that_is_gone_hides_no_other():
    found = gone(errors.UnknownRevision("1" * 40)).sound()
    assert set(found.state.nodes) == {"village", "flat"}
    assert "no such version" in str(found.state.lost_nodes["held"])


def test_a_git_that_was_stopped_is_not_taken_for_a_broken_file():
    with pytest.raises(errors.GitStopped):
        gone(errors.GitStopped(".git", "git was stopped by signal 9")).sound()


class Torn(Shelf):
    """A store that cannot give some contents, and says so for all that are asked for together."""

    torn: frozenset[str] = frozenset()
    asked = 0

    def read(self, ids: Iterable[str], at_most: int = 2**26) -> dict[str, bytes]:
        ids = list(ids)
        self.asked += 1
        if self.torn.intersection(ids):
            raise Damaged(".git", "the content is missing")
        return super().read(ids, at_most)


def torn(broken: int, whole: int) -> Torn:
    nodes = [child(f"n{number}") for number in range(broken + whole)]
    shelf = Torn(first=files(block(), *nodes))
    shelf.torn = frozenset(blob_id(node_text(node)) for node in nodes[:broken])
    return shelf


def test_a_content_that_git_cannot_give_is_one_file_that_cannot_be_read():
    shelf = torn(3, 500)
    found = Loader(shelf).at("first")  # type: ignore[arg-type]
    assert len(found.nodes) == 501
    assert set(found.lost_nodes) == {"n0", "n1", "n2"}
    assert shelf.asked < 100


def test_where_hardly_anything_can_be_read_it_is_damage_of_the_whole():
    shelf = torn(MOST_BROKEN * 10, 10)
    with refusing(Damaged, match="content is missing"):
        Loader(shelf).at("first")  # type: ignore[arg-type]
    assert shelf.asked < 5 * MOST_BROKEN


# --- on the disk ----------------------------------------------------------------------------------


def broken(folder: Path, path: str, content: bytes = b"[") -> None:
    """Record a file as it should not be, as a stranger's git does it."""
    (folder / path).write_bytes(content)
    git = ["git", "-C", str(folder), "-c", "user.name=x", "-c", "user.email=x@example.org"]
    subprocess.run([*git, "add", "-A"], check=True)
    subprocess.run([*git, "commit", "-qm", "Spoil it"], check=True)


def test_only_a_step_that_would_reach_it_is_refused(folder: Path):
    broken(folder, "patterns/blouse.toml")
    with Wardrobe.open(folder) as wardrobe:
        head = wardrobe.head
        with refusing(VerdictUnknown, match=r"blouse derives from village .* last version"):
            corrected(wardrobe, "village", LITTLE)
        with refusing(Damaged, match=r"patterns/blouse\.toml"):
            corrected(wardrobe, "short", LITTLE)
        with pytest.raises(NameTaken, match=r"patterns/blouse\.toml"):
            wardrobe.propose_child("blouse", [ParentRecord("flat")])
        assert wardrobe.head == head
        corrected(wardrobe, "flat", LITTLE)
        assert wardrobe.file("patterns/blouse.toml") == b"["


def test_where_a_node_stood_is_looked_up_as_far_back_as_it_could_be_read(folder: Path):
    broken(folder, "patterns/short.toml")
    with Wardrobe.open(folder) as wardrobe:
        for _ in range(3):
            corrected(wardrobe, "flat", LITTLE)
        with refusing(VerdictUnknown, match="short derives from blouse"):
            corrected(wardrobe, "blouse", LITTLE)


def test_what_nobody_could_ever_read_may_derive_from_anything(folder: Path):
    broken(folder, "patterns/new.toml")
    with Wardrobe.open(folder) as wardrobe:
        with refusing(VerdictUnknown, match="new may derive from flat"):
            corrected(wardrobe, "flat", LITTLE)
        wardrobe.record(wardrobe.propose_child("gown", [ParentRecord("flat")]))


def test_a_parent_that_was_moved_meanwhile_counts_where_it_is_now(folder: Path):
    broken(folder, "patterns/short.toml")
    moved = (folder / "patterns/blouse.toml").read_text().replace("village", "flat")
    broken(folder, "patterns/blouse.toml", moved.encode())
    with (
        Wardrobe.open(folder) as wardrobe,
        refusing(VerdictUnknown, match="short derives from flat"),
    ):
        corrected(wardrobe, "flat", LITTLE)


def test_an_edit_by_hand_beside_what_is_broken_is_taken_up(folder: Path):
    broken(folder, "patterns/short.toml")
    flat = folder / "patterns/flat.toml"
    with Wardrobe.open(folder) as wardrobe:
        flat.write_text(flat.read_text().replace('"-3mm"', '"-2mm"'))
        assert wardrobe.take_up_hand_edits() is not None
        assert wardrobe.hand_edits() == ()
        assert wardrobe.file("patterns/short.toml") == b"["


def test_an_edit_that_takes_a_parent_away_is_refused_beside_what_is_broken(folder: Path):
    broken(folder, "patterns/flat.toml")
    (folder / "patterns/blouse.toml").unlink()
    with Wardrobe.open(folder) as wardrobe, pytest.raises(MissingParent, match="blouse"):
        wardrobe.take_up_hand_edits()


def test_the_history_tells_of_the_rest_what_a_step_did(folder: Path):
    whole = (folder / "patterns/short.toml").read_bytes()
    broken(folder, "patterns/short.toml")
    with Wardrobe.open(folder) as wardrobe:
        corrected(wardrobe, "flat", change("lower-neck", piece="front", by="3mm"))
        broken(folder, "patterns/short.toml", whole)
        entries = [e for e in Chronicle(wardrobe).entries() if e.node == "flat"]
        assert entries[0].effect.measures
        assert "patterns/short.toml" in str(entries[0].effect.unreadable)
        assert entries[1].effect.unreadable == ""
        mended = next(Chronicle(wardrobe).entries())
        assert (mended.effect.opened, mended.effect.patterns) == ((), ())
        assert "short.toml" in mended.effect.unreadable


def test_versions_of_the_others_are_told_from_before_the_damage(folder: Path):
    with Wardrobe.open(folder) as wardrobe:
        before = versions(wardrobe, ["flat", "short"], 9)
    broken(folder, "patterns/short.toml")
    with Wardrobe.open(folder) as wardrobe:
        after = versions(wardrobe, ["flat", "short"], 9)
    assert len(before["flat"]) == 2
    assert after["flat"] == before["flat"]
    assert after["short"] == ()
