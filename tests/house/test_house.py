"""The house is kept: no circle of imports in any room, and none with too much lying flat in it."""

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import networkx as nx
import pytest

ROOT = Path(__file__).parents[2]
FLOORS = ("geometry", "lineage", "cli")
MOST_FLAT = 16  # about fifteen
LONGEST = 320  # about three hundred lines


def _modules() -> dict[str, Path]:
    """Return every file of the program by the name it is imported by."""
    found = {}
    for floor in FLOORS:
        for file in (ROOT / floor).rglob("*.py"):
            parts = file.relative_to(ROOT).with_suffix("").parts
            found[".".join(("trueup", *parts)).removesuffix(".__init__")] = file
    return found


MODULES = _modules()


def _imported(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [f"{node.module}.{alias.name}" for alias in node.names]
            yield from (name if name in MODULES else node.module for name in names)


def _arrows() -> set[tuple[str, str]]:
    """Return who imports whom; a room's list of what it offers is no arrow to what is in it."""
    return {
        (name, other)
        for name, file in MODULES.items()
        for other in _imported(file)
        if other in MODULES and other != name and not other.startswith(f"{name}.")
    }


def test_no_file_imports_itself_by_a_way_round() -> None:
    circles = [c for c in nx.strongly_connected_components(nx.DiGraph(_arrows())) if len(c) > 1]
    assert circles == []


def test_in_every_room_imports_go_downwards_only() -> None:
    """Rooms and files that stand beside one another import each other one way at most."""
    beside: defaultdict[str, set[tuple[str, str]]] = defaultdict(set)
    for name, other in _arrows():
        one, two = name.split("."), other.split(".")
        depth = next((k for k, (a, b) in enumerate(zip(one, two, strict=False)) if a != b), None)
        if depth is not None:
            beside[".".join(one[:depth])].add((one[depth], two[depth]))
    circles = {
        room: [c for c in nx.strongly_connected_components(nx.DiGraph(arrows)) if len(c) > 1]
        for room, arrows in beside.items()
    }
    assert {room: found for room, found in circles.items() if found} == {}


@pytest.mark.parametrize("top", [*FLOORS, "tests", "sample_wardrobe"])
def test_no_room_has_too_much_lying_flat(top: str) -> None:
    flat: defaultdict[Path, int] = defaultdict(int)
    for file in (ROOT / top).rglob("*.py"):
        flat[file.parent] += not file.name.startswith("__")
    assert {room: count for room, count in flat.items() if count > MOST_FLAT} == {}


def test_no_file_is_two_ideas_long() -> None:
    long = {
        name: lines
        for name, file in MODULES.items()
        if (lines := len(file.read_text(encoding="utf-8").splitlines())) > LONGEST
    }
    assert long == {}


def test_a_public_class_has_a_name_of_its_own() -> None:
    named = defaultdict(list)
    for module, file in MODULES.items():
        for node in ast.parse(file.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                named[node.name].append(module)
    assert len(named) > 200
    assert {name: where for name, where in named.items() if len(where) > 1} == {}
