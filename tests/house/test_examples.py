"""Every example in a docstring of the program runs, and says what it is said to say."""

import doctest
import importlib

import pytest

from tests.house.test_house import FLOORS, ROOT

NAMES = sorted(
    ".".join(("trueup", *file.relative_to(ROOT).with_suffix("").parts)).removesuffix(".__init__")
    for floor in FLOORS
    for file in (ROOT / floor).rglob("*.py")
    if ">>> " in file.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", NAMES)
def test_the_examples_of_a_module_run(name: str) -> None:
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0


def test_there_are_examples() -> None:
    assert "trueup.geometry.units" in NAMES
