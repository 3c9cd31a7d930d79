"""What the files of git's names and logs say, whole or damaged."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trueup.lineage.restoring.named.logs import log_text, read_log
from trueup.lineage.restoring.named.names import (
    Target,
    is_name,
    packed_names,
    packed_without,
    target_of,
)

A, B = "a" * 40, "b" * 40
WHO = "Ada <ada@example.org> 1740787200 +0100"
LINES = (f"{'0' * 40} {A} {WHO}\ttrueup: step\n{A} {B} {WHO}\n").encode()


def test_a_name_stands_for_an_id_or_for_another_name() -> None:
    assert target_of(f"{A}\n".encode()) == Target(id=A)
    assert target_of(b"ref: refs/heads/main\n") == Target(name="refs/heads/main")


@pytest.mark.parametrize(
    "content",
    [b"", b"\0" * 41, b"0" * 40, A[:39].encode(), b"ref: main\n", b"ref: refs/heads/../../x\n",
     b"ref: refs/heads/a b\n", b"\xff\xfe", A.upper().encode()],
)  # fmt: skip
def test_what_is_neither_stands_for_nothing(content: bytes) -> None:
    assert target_of(content) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [("refs/heads/main", True), ("refs/heads/winter/coat", True), ("HEAD", False),
     ("refs/heads/x.lock", False), ("refs/heads/.x", False), ("refs/heads/x..y", False),
     ("refs/heads/", False), ("refs/heads/x~1", False)],
)  # fmt: skip
def test_git_takes_a_name_or_does_not(text: str, expected: bool) -> None:
    assert is_name(text) is expected


PACKED = (
    f"# pack-refs with: peeled fully-peeled sorted \n{A} refs/heads/main\n{B} refs/tags/v1\n^{A}\n"
).encode()


def test_packed_names_are_read_and_written_back() -> None:
    found = packed_names(PACKED)
    assert found.is_sound
    assert found.names == {"refs/heads/main": A, "refs/tags/v1": B}
    assert packed_without(found, ()) == PACKED
    assert packed_without(found, ["refs/tags/v1"]) == PACKED.split(B.encode())[0]


def test_of_damaged_packed_names_what_can_be_read_is_kept() -> None:
    found = packed_names(PACKED.replace(b"main", b"ma\0n"))
    assert not found.is_sound
    assert found.names == {"refs/tags/v1": B}
    assert not packed_names(PACKED[:-20]).is_sound
    assert not packed_names(b"").is_sound


def test_a_log_is_read_and_written_back() -> None:
    found = read_log(LINES)
    assert found.is_sound
    assert [(each.old, each.new) for each in found.entries] == [(None, A), (A, B)]
    assert found.newest == B
    assert found.before() == {B: A}
    when = found.entries[0].when
    assert when is not None
    assert when.isoformat() == "2025-03-01T01:00:00+01:00"
    assert log_text(found.entries) == LINES


def test_of_a_damaged_log_the_lines_that_can_be_read_are_kept() -> None:
    found = read_log(LINES.replace(b"Ada <", b"Ada ", 1))
    assert not found.is_sound
    assert [each.new for each in found.entries] == [B]
    assert not read_log(LINES[:-1]).is_sound
    assert not read_log(b"\0" * 100).is_sound


@given(st.binary(max_size=300))
def test_whatever_lies_there_is_read_without_an_error(content: bytes) -> None:
    target_of(content)
    found = read_log(content)
    assert read_log(log_text(found.entries)).entries == found.entries
    packed = packed_names(content)
    assert packed_names(packed_without(packed, ())).names == packed.names
