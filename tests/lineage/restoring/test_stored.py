"""Stored things by their files: sound, damaged, and lists of files that are worked out."""

import hashlib
import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from trueup.lineage.restoring.stored import loose, sealed
from trueup.lineage.restoring.stored.between import Patience, derived_list
from trueup.lineage.restoring.stored.missing import ListEntry, entries, tree_text

CONTENT = b'format = 1\nname = "blouse"\n' * 3000


def blob(content: bytes) -> str:
    return hashlib.sha1(b"blob %d\0" % len(content) + content).hexdigest()


@pytest.mark.parametrize("content", [b"", b"x", CONTENT, os.urandom(200_000)])
def test_a_thing_is_what_its_name_says(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "thing"
    file.write_bytes(loose.packed(b"blob", content))
    assert loose.digest(b"blob", content, 40) == blob(content)
    assert loose.is_sound(file, blob(content))
    assert loose.is_sound(file, loose.digest(b"blob", content, 64))
    assert not loose.is_sound(file, blob(content + b"!"))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(place=st.floats(0, 1, exclude_max=True), flip=st.integers(1, 255))
def test_one_wrong_byte_anywhere_is_seen(tmp_path: Path, place: float, flip: int) -> None:
    packed = bytearray(loose.packed(b"blob", CONTENT))
    packed[int(place * len(packed))] ^= flip
    file = tmp_path / "thing"
    file.write_bytes(packed)
    assert not loose.is_sound(file, blob(CONTENT))


def test_cut_off_or_followed_by_something_is_seen(tmp_path: Path) -> None:
    file, packed = tmp_path / "thing", loose.packed(b"blob", CONTENT)
    for content in (b"", packed[:-1], packed[: len(packed) // 2], packed + b"\0", bytes(50)):
        file.write_bytes(content)
        assert not loose.is_sound(file, blob(CONTENT))


def test_a_bomb_is_not_unpacked(tmp_path: Path) -> None:
    """Its head says one byte, and a gigabyte of zeros follows."""
    import zlib  # noqa: PLC0415

    packer = zlib.compressobj(9)
    parts = [packer.compress(b"blob 1\0")]
    parts += [packer.compress(bytes(1 << 20)) for _ in range(1024)]
    file = tmp_path / "thing"
    file.write_bytes(b"".join([*parts, packer.flush()]))
    assert not loose.is_sound(file, blob(b"\0"))


def test_a_seal_fits_what_stands_before_it(tmp_path: Path) -> None:
    file, body = tmp_path / "sealed", os.urandom(3_000_000)
    seal = hashlib.sha1(body).digest()
    file.write_bytes(body + seal)
    assert sealed.seal_of(file, 40) == seal
    other = body[:-1] + bytes([body[-1] ^ 1])
    for content in (b"", seal, body, other + seal):
        file.write_bytes(content)
        assert sealed.seal_of(file, 40) is None
    assert sealed.seal_of(tmp_path / "nowhere", 40) is None


def listed(**names: int) -> list[ListEntry]:
    """Return a list of files: each name with a content by its number, folders without a dot."""
    return [
        ListEntry(b"40000" if "_" not in name else b"100644", name.encode(), f"{number:040x}")
        for name, number in names.items()
    ]


def lost(**names: int) -> str:
    return loose.digest(b"tree", tree_text(listed(**names)), 40)


def test_a_list_is_read_as_it_is_written() -> None:
    lines = listed(blocks=1, a_toml=2, b_toml=3)
    assert sorted(entries(tree_text(lines), 40), key=lambda e: e.name) == sorted(
        lines, key=lambda e: e.name
    )
    assert entries(b"garbage", 40) == []


BEFORE = listed(a_toml=1, b_toml=2, c_toml=3, folder=4)
AFTER = listed(a_toml=1, b_toml=9, c_toml=8, folder=4)
UNNEEDED = [(False, f"{each:040x}") for each in (20, 21, 22)] + [(True, f"{30:040x}")]


@pytest.mark.parametrize(
    "names",
    [
        {"a_toml": 1, "b_toml": 9, "c_toml": 3, "folder": 4},  # one step, then the other
        {"a_toml": 1, "b_toml": 2, "c_toml": 8, "folder": 4},
        {"a_toml": 20, "b_toml": 2, "c_toml": 3, "folder": 4},  # a step that was taken back
        {"a_toml": 20, "b_toml": 21, "c_toml": 22, "folder": 4},
        {"a_toml": 1, "b_toml": 21, "c_toml": 20, "folder": 30},
    ],
)
def test_a_lost_list_is_worked_out_from_its_neighbours(names: dict[str, int]) -> None:
    found = derived_list(lost(**names), [BEFORE, AFTER], UNNEEDED, Patience(1000))
    assert found == tree_text(listed(**names))


def test_what_is_in_one_neighbour_only_may_be_there_or_not() -> None:
    shorter = listed(a_toml=1, folder=4)
    for names in ({"a_toml": 1, "b_toml": 2, "folder": 4}, {"a_toml": 1, "c_toml": 3, "folder": 4}):
        assert derived_list(lost(**names), [BEFORE, shorter], (), Patience(1000)) is not None


def test_what_cannot_be_worked_out_is_not_made_up() -> None:
    assert derived_list("f" * 40, [BEFORE, AFTER], UNNEEDED, Patience(1000)) is None
    assert derived_list("f" * 40, [], UNNEEDED, Patience(1000)) is None
