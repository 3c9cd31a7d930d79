"""Whatever is read from outside, only declared errors escape, and each is one sentence.

Every find stands below `found/`, in a folder named after its target, and is tried again here.
`TRUEUP_FUZZ` says how many examples more than usual are drawn.
"""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzzing.spoiling import anything
from tests.fuzzing.targets import TARGETS, only_declared, seeds
from tests.small_wardrobe import build
from tests.warm import Warm, environment

FOUND = Path(__file__).parent / "found"
MORE = int(os.environ.get("TRUEUP_FUZZ", "1"))
CHEAP = (
    "length",
    "position",
    "redrawn",
    "settings",
    "garment",
    "body",
    "message",
    "outline",
    "photo",
)
EXAMPLES = {**dict.fromkeys(TARGETS, 25), **dict.fromkeys(CHEAP, 60)}


@pytest.fixture(scope="module")
def _in_a_wardrobe(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Stand in a wardrobe of its own for the command lines, with a home of its own."""
    place = tmp_path_factory.mktemp("fuzzed")
    with Warm(place / "home") as trueup:
        build(trueup, place / "wardrobe")
    with pytest.MonkeyPatch.context() as patch:
        for name, value in environment(place / "home").items():
            patch.setenv(name, value)
        patch.setenv("TRUEUP_FUZZED", str(place / "wardrobe"))
        yield
    shutil.rmtree(place)


@pytest.mark.usefixtures("_in_a_wardrobe")
@pytest.mark.parametrize("name", TARGETS)
def test_only_declared_errors_escape(name: str) -> None:
    @settings(
        max_examples=EXAMPLES[name] * MORE,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(st.data())
    def holds(data: st.DataObject) -> None:
        only_declared(TARGETS[name], data.draw(anything(seeds()[name])))

    holds()


@pytest.mark.usefixtures("_in_a_wardrobe")
@pytest.mark.parametrize("name", TARGETS)
def test_sound_examples_are_sound(name: str) -> None:
    """Else nothing would be spoilt."""
    for seed in seeds()[name]:
        only_declared(TARGETS[name], seed)


@pytest.mark.usefixtures("_in_a_wardrobe")
@pytest.mark.parametrize(
    "case", sorted(FOUND.glob("*/*")), ids=lambda case: f"{case.parent.name}-{case.name}"
)
def test_what_was_found_once(case: Path) -> None:
    only_declared(TARGETS[case.parent.name], case.read_bytes())
