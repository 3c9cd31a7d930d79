"""What of the graph one picture of a book can hold."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.sharing.copied import copied
from trueup.cli.book.pages.graph import drawn_graph, family_picture
from trueup.cli.book.source import BookSource
from trueup.cli.drawing.scene.scene import Group, Scene, Words
from trueup.cli.opening import reading


def linked(scene: Scene) -> list[str]:
    return sorted(item.link for item in scene.items if isinstance(item, Group) and item.link)


def words(scene: Scene) -> set[str]:
    groups = [item.items for item in scene.items if isinstance(item, Group)]
    flat = [*scene.items, *(inner for items in groups for inner in items)]
    return {item.text for item in flat if isinstance(item, Words)}


@contextmanager
def wardrobe_with(built: Path, folder: Path, patterns: int, parent: str) -> Iterator[BookSource]:
    """Open a wardrobe to which so many more patterns of one parent were added by hand."""
    copied(built, folder)
    for number in range(patterns):
        text = f'format = 1\nname = "more-{number}"\n\n[[parents]]\nname = "{parent}"\n'
        (folder / "patterns" / f"more-{number}.toml").write_text(text)
    with reading(folder) as opened:
        yield BookSource(opened, 1)


def test_a_small_graph_is_drawn_whole(built, tmp_path):
    with wardrobe_with(built, tmp_path / "w", 0, "easy") as source:
        drawn = drawn_graph(source)
    assert drawn.is_whole
    assert linked(drawn.picture) == [
        *("#/block/easy", "#/block/village"),
        *("#/pattern/blouse", "#/pattern/own", "#/pattern/vest"),
    ]


def test_of_a_large_graph_only_what_something_derives_from(built, tmp_path):
    with wardrobe_with(built, tmp_path / "w", 70, "easy") as source:
        drawn = drawn_graph(source)
    assert not drawn.is_whole
    assert linked(drawn.picture) == ["#/block/easy", "#/block/village"]
    assert "71 derived from it" in words(drawn.picture)
    assert drawn.last is None


def test_a_family_is_drawn_from_its_block_to_the_children(built, tmp_path):
    with wardrobe_with(built, tmp_path / "w", 70, "blouse") as source:
        scene, _ = family_picture(source, "blouse")
    assert {"#/block/village", "#/block/easy"} <= set(linked(scene))
    assert len(linked(scene)) == 2 + 12
    assert "#/pattern/blouse" not in linked(scene)  # the page at hand
    assert "this page" in words(scene)
