"""A file that may be anything is read only when it is one, and no further than its limit."""

import os
from pathlib import Path

import pytest

from tests import bounded
from trueup.lineage.store.files.plain_file import NotPlain, read_plain


def reason(place: Path, largest: int = 1_000_000, *, follow: bool = True) -> str:
    with pytest.raises(NotPlain) as caught:
        read_plain(place, largest, follow=follow)
    return str(caught.value)


def test_a_plain_file_is_read(tmp_path: Path):
    (tmp_path / "a").write_bytes(b"abc")
    (tmp_path / "link").symlink_to("a")
    assert read_plain(tmp_path / "a", 3) == b"abc"
    assert read_plain(tmp_path / "link", 3) == b"abc"
    assert reason(tmp_path / "link", follow=False) == "it is a link to another place"
    assert reason(tmp_path / "a", 2) == "it is larger than 0 MB"


def test_what_is_no_file_is_told(tmp_path: Path):
    assert reason(tmp_path) == "it is a folder"
    assert reason(tmp_path / "a") == "there is no such file"
    assert reason(tmp_path / "a\0b") == "that is no name of a file"
    assert "too long" in reason(tmp_path / ("x" * 300))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a system without pipes that have a name")
def test_a_pipe_is_not_waited_for_and_a_device_not_read(tmp_path: Path):
    os.mkfifo(tmp_path / "pipe")
    told = bounded.python(
        """
        import sys
        from pathlib import Path
        from trueup.lineage.store.files.plain_file import NotPlain, read_plain
        for name in sys.argv[1:]:
            try:
                read_plain(Path(name), 1_000_000)
            except NotPlain as reason:
                print(reason)
        """,
        str(tmp_path / "pipe"),
        "/dev/zero",
        "/dev/stdin",
    )
    assert told.splitlines()[:2] == ["it is not a plain file"] * 2


def test_a_file_that_grows_or_tells_no_size_is_read_no_further(tmp_path: Path):
    place = Path("/proc/self/pagemap")
    if not place.exists():
        pytest.skip("a system that tells nothing of its pages")
    assert reason(place, 1_000) == "it is larger than 0 MB"
