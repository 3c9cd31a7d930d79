from pathlib import Path

import msgspec
import pytest

from tests import spoiling
from tests.lineage.making import block, child, state, step
from trueup.geometry.lines.chain import Chain
from trueup.lineage.evaluation.cache import FileCache, file_cache
from trueup.lineage.evaluation.cache.file_cache import cache_file
from trueup.lineage.evaluation.cache.sealed_rows import SealedRows
from trueup.lineage.evaluation.evaluate import Evaluator

STORE = state(
    block(),
    child("easy", step("e1", "add-ease", by="40mm")),
    child("blouse", step("b1", "lower-neck", piece="front", by="20mm"), of="easy"),
)
NAMES = ["village", "easy", "blouse"]


def evaluated(wardrobe: Path) -> list[str]:
    """Evaluate all with the cache of a wardrobe; return what really was evaluated."""
    cache = FileCache(wardrobe)
    evaluator = Evaluator(STORE, cache)
    for name in NAMES:
        evaluator.summary(name)
        evaluator.draft(name)
    cache.close()
    return evaluator.ran


def file_for(wardrobe: Path) -> Path:
    place = cache_file(wardrobe)
    assert place is not None
    return place[0]


@pytest.fixture
def wardrobe(tmp_path: Path) -> Path:
    """A wardrobe's folder, which stays empty."""
    folder = tmp_path / "wardrobe"
    folder.mkdir()
    return folder


def test_what_was_evaluated_is_found_again(wardrobe: Path):
    assert evaluated(wardrobe) == NAMES
    assert evaluated(wardrobe) == ["blouse"]  # asked for the geometry of a leaf, which is not kept
    first, second = FileCache(wardrobe), Evaluator(STORE)
    for name in NAMES:
        assert first.summary(second.key(name)) == second.summary(name)
        kept = first.draft(second.key(name))
        assert kept is None if name == "blouse" else kept == second.draft(name)
    first.close()
    assert list(wardrobe.iterdir()) == []


def test_what_was_just_kept_is_found_before_it_is_written(wardrobe: Path):
    cache = FileCache(wardrobe)
    Evaluator(STORE, cache).summary("blouse")
    second = Evaluator(STORE, cache)
    second.summary("blouse")
    assert second.ran == []
    cache.close()


def test_files_that_were_read_are_found_by_their_keys(wardrobe: Path):
    cache = FileCache(wardrobe)
    for name in NAMES:
        cache.keep_node(f"{name}.toml@1", STORE.node(name))
    cache.close()
    again = FileCache(wardrobe)
    asked = ["easy.toml@1", "blouse.toml@2", "blouse.toml@1"]
    found = again.nodes(asked)
    assert found == {key: STORE.node(key.partition(".")[0]) for key in (asked[0], asked[2])}
    assert again.nodes([]) == {}
    again.close()


@pytest.mark.parametrize("spoil", [spoiling.scale_numbers, spoiling.exchange_rows])
def test_numbers_that_were_changed_count_as_none(wardrobe: Path, spoil: spoiling.Spoil):
    evaluated(wardrobe)
    spoil(file_for(wardrobe))
    assert evaluated(wardrobe) == NAMES
    assert evaluated(wardrobe) == ["blouse"]


def test_a_rotten_bit_never_changes_a_number(wardrobe: Path):
    evaluated(wardrobe)
    path, evaluator = file_for(wardrobe), Evaluator(STORE)
    sound = path.read_bytes()
    keys = {name: evaluator.key(name) for name in NAMES}
    for bit in range(3, len(sound) * 8, len(sound) * 8 // 300):
        path.write_bytes(sound)
        spoiling.flip(path, bit)
        cache = FileCache(wardrobe)
        for name in NAMES:
            assert cache.summary(keys[name]) in (None, evaluator.summary(name)), bit
            assert cache.draft(keys[name]) in (None, evaluator.draft(name)), bit
        cache.close()


def test_what_another_secret_sealed_counts_as_nothing(wardrobe: Path):
    evaluated(wardrobe)
    path = file_for(wardrobe)
    path.with_name("secret").unlink()
    assert evaluated(wardrobe) == NAMES
    assert evaluated(wardrobe) == ["blouse"]


def test_content_under_a_seal_that_cannot_be_read_counts_as_none(wardrobe: Path):
    evaluated(wardrobe)
    key = Evaluator(STORE).key("easy")
    place = cache_file(wardrobe)
    assert place is not None
    for content in (b"", b"\x80", b"\xff\x00", b"\x93", msgspec.msgpack.encode([1] * 7)):
        rows = SealedRows(*place)
        rows.write([(kind, key, content) for kind in ("summary", "draft", "node")])
        rows.close()
        cache = FileCache(wardrobe)
        assert cache.summary(key) is None
        assert cache.draft(key) is None
        assert cache.nodes([key]) == {}
        cache.close()


def test_a_kept_draft_that_does_not_close_counts_as_none(wardrobe: Path):
    evaluator = Evaluator(STORE)
    draft = evaluator.draft("village")
    front = draft.piece("front")
    neck = front.edge("neck")
    object.__setattr__(neck, "parts", (Chain.line(0j, 900 + 900j),))  # what no piece can hold
    cache = FileCache(wardrobe)
    cache.keep("key", evaluator.summary("village"), draft)
    cache.flush()
    assert cache.draft("key") is None
    assert cache.summary("key") is not None
    cache.close()


def test_without_a_place_everything_is_evaluated(wardrobe: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("TRUEUP_CACHE", "nowhere")
    assert evaluated(wardrobe) == NAMES
    assert evaluated(wardrobe) == NAMES


def test_what_another_state_of_the_program_kept_counts_as_nothing(
    wardrobe: Path, monkeypatch: pytest.MonkeyPatch
):
    evaluated(wardrobe)
    with monkeypatch.context() as patch:
        patch.setattr(file_cache, "program_here", lambda: None)
        assert (
            evaluated(wardrobe) == NAMES
        )  # nor does one that cannot tell what it is keep anything
    assert evaluated(wardrobe) == ["blouse"]
    monkeypatch.setattr(file_cache, "program_here", lambda: b"another")
    assert evaluated(wardrobe) == NAMES
    assert evaluated(wardrobe) == ["blouse"]


LOOKS = {"blocks/village.toml": ((1, 2, 3, 4), "a" * 40), "patterns/é.toml": ((5, 6, 7, 8), "b")}


def test_how_files_looked_is_found_again(wardrobe: Path):
    first = FileCache(wardrobe)
    assert first.looks() == {}
    first.keep_looks(LOOKS)
    first.close()
    second = FileCache(wardrobe)
    assert second.looks() == LOOKS
    second.keep_looks({})
    second.close()
    assert FileCache(wardrobe).looks() == {}


def test_a_name_that_is_no_text_is_not_kept(wardrobe: Path):
    cache = FileCache(wardrobe)
    cache.keep_looks({"patterns/\udcff.toml": ((1, 2, 3, 4), "a")})
    cache.close()
    assert FileCache(wardrobe).looks() == {}
