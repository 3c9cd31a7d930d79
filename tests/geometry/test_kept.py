import os
import pickle
import subprocess
import sys
from dataclasses import dataclass, replace

from tests.builders import block
from trueup.geometry.kept import hashed_once, kept

hashes: list[str] = []


class Named(str):
    __slots__ = ()

    def __hash__(self) -> int:
        hashes.append(self)
        return super().__hash__()


@hashed_once
@dataclass(frozen=True)
class Labelled:
    name: str
    size: float = 0.0

    @kept
    def letters(self) -> int:
        return len(self.name)


def test_a_hash_is_worked_out_once_and_is_the_one_it_was() -> None:
    hashes.clear()
    label = Labelled(Named("hem"))
    assert hash(label) == hash(label) == hash(("hem", 0.0))
    assert hashes == ["hem"]


def test_equal_values_hash_alike_whatever_each_keeps() -> None:
    label, like = Labelled("hem"), Labelled("hem")
    assert label.letters == 3
    assert {label: 1}[like] == 1


def test_what_is_made_of_a_value_has_a_hash_of_its_own() -> None:
    label = Labelled("hem")
    assert hash(label) != hash(replace(label, size=2.0))
    assert hash(replace(label, size=2.0)) == hash(Labelled("hem", 2.0))


def test_what_is_sent_to_another_process_is_found_there_among_its_equals() -> None:
    draft = block()
    values = (draft, *draft.pieces, *draft.pieces[0].edges)
    assert {*map(hash, values)}
    asks = (
        "import pickle, sys; from dataclasses import replace; "
        "found = pickle.load(sys.stdin.buffer); "
        "assert all(hash(replace(each)) == hash(each) for each in found)"
    )
    for seed in ("1", "2"):  # of the hashes of texts, which processes do not share
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        feed = pickle.dumps(values)
        subprocess.run([sys.executable, "-c", asks], input=feed, env=environment, check=True)
