"""Garments of every sort, each a chain of steps on the same blocks, played to look at."""

from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

from trueup.cli.demo.story import Tale, ToldSteps, read_chapter

BLOCKS = "blocks"


def garment_tale(*names: str) -> Tale:
    """Return how the garments of these names, all unless some are given, come to be on blocks."""
    told = names or tuple(name for name in chapters() if name != BLOCKS)
    steps = (step for name in (BLOCKS, *told) for step in chapters()[name].step)
    return Tale("open-air-stage", "mm", tuple(steps))


@cache
def chapters() -> dict[str, ToldSteps]:
    """Return the steps of every file by its name: one of blocks, and one of each garment."""
    folder = files("trueup.sample_wardrobe") / "garments"
    found = sorted((each for each in folder.iterdir() if _tells(each)), key=lambda each: each.name)
    return {each.name.removesuffix(".toml"): read_chapter(each.read_bytes()) for each in found}


def _tells(file: Traversable) -> bool:
    return file.name.endswith(".toml")
