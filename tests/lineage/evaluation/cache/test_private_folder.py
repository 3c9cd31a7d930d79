import os
import stat
from pathlib import Path

import pytest

from trueup.lineage.evaluation.cache import private_folder as private
from trueup.lineage.evaluation.cache.private_folder import (
    file_of,
    make_ready,
    private_folder,
    secret_of,
)

WARDROBE = Path("/srv/wardrobe")


def mode(path: Path) -> int:
    return stat.S_IMODE(path.lstat().st_mode)


def test_it_is_made_for_the_user_alone(place: Path):
    before = os.umask(0)
    try:
        assert private_folder(WARDROBE) == place / "trueup"
    finally:
        os.umask(before)
    assert mode(place / "trueup") == 0o700
    assert private_folder(WARDROBE) == place / "trueup"


def test_the_folder_above_it_is_made_and_no_more(place: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("TRUEUP_CACHE", str(place / "a"))
    assert private_folder(WARDROBE) == place / "a" / "trueup"
    monkeypatch.setenv("TRUEUP_CACHE", str(place / "b" / "c"))
    assert private_folder(WARDROBE) is None
    assert not (place / "b").exists()


@pytest.mark.parametrize("open_to", [0o777, 0o755, 0o710, 0o701])
def test_one_that_others_may_look_into_is_closed(place: Path, open_to: int):
    (place / "trueup").mkdir()
    (place / "trueup").chmod(open_to)
    assert private_folder(WARDROBE) == place / "trueup"
    assert mode(place / "trueup") == 0o700


def test_one_that_cannot_be_closed_is_not_used(place: Path, monkeypatch: pytest.MonkeyPatch):
    (place / "trueup").mkdir(mode=0o755)
    monkeypatch.setattr(Path, "chmod", lambda *_: None)  # as on a disk that knows no permissions
    assert private_folder(WARDROBE) is None


@pytest.mark.skipif(os.geteuid() != 0, reason="only the superuser may give a folder away")
def test_anothers_is_neither_used_nor_made(place: Path, monkeypatch: pytest.MonkeyPatch):
    (place / "trueup").mkdir(mode=0o700)
    os.chown(place / "trueup", 4242, 4242)
    assert private_folder(WARDROBE) is None
    home = place / "home"
    home.mkdir()
    os.chown(home, 4242, 4242)
    monkeypatch.setenv("TRUEUP_CACHE", str(home))
    assert private_folder(WARDROBE) is None
    assert list(home.iterdir()) == []


def test_a_link_or_a_file_in_its_place_is_left_alone(place: Path, tmp_path: Path):
    (tmp_path / "elsewhere").mkdir(mode=0o755)
    (place / "trueup").symlink_to(tmp_path / "elsewhere")
    assert private_folder(WARDROBE) is None
    assert mode(tmp_path / "elsewhere") == 0o755
    (place / "trueup").unlink()
    (place / "trueup").write_bytes(b"mine")
    assert private_folder(WARDROBE) is None
    assert (place / "trueup").read_bytes() == b"mine"


def test_it_never_lies_in_the_wardrobe(place: Path, tmp_path: Path):
    (tmp_path / "link").symlink_to(tmp_path)
    for wardrobe in (place, tmp_path, tmp_path / "link", place / "trueup", Path("/")):
        assert private_folder(wardrobe) is None
    assert not (place / "trueup").exists()
    assert private_folder(place / "wardrobe") is not None


@pytest.mark.parametrize("answer", [Path("cache"), Path("~/.cache/trueup"), Path()])
def test_a_relative_one_is_not_used(answer: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("TRUEUP_CACHE")
    monkeypatch.setattr("platformdirs.user_cache_path", lambda *_, **__: answer)
    assert private_folder(WARDROBE) is None
    monkeypatch.setenv("TRUEUP_CACHE", str(answer))
    assert private_folder(WARDROBE) is None
    assert not (tmp_path / "cache").exists()


def test_without_a_home_there_is_none(monkeypatch: pytest.MonkeyPatch):
    def lost(*_: object, **__: object) -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.delenv("TRUEUP_CACHE")
    monkeypatch.setattr("platformdirs.user_cache_path", lost)
    assert private_folder(WARDROBE) is None


def test_the_secret_is_kept_for_the_user_alone(place: Path):
    secret = secret_of(place)
    assert secret is not None
    assert len(secret) == 32
    assert mode(place / "secret") == 0o600
    assert secret_of(place) == secret
    assert [path.name for path in place.iterdir()] == ["secret"]
    (place / "other").mkdir()
    assert secret_of(place / "other") != secret


def spoilt_secrets(place: Path) -> dict[str, Path]:
    """Return paths at which something is, that is no secret of ours."""
    places = {
        name: place / name / "secret" for name in ("short", "long", "open", "link", "twin", "pipe")
    }
    for path in places.values():
        path.parent.mkdir()
    (place / "known").write_bytes(b"k" * 32)
    (place / "known").chmod(0o600)
    places["short"].write_bytes(b"k" * 31)
    places["long"].write_bytes(b"k" * 33)
    places["open"].write_bytes(b"k" * 32)
    places["open"].chmod(0o640)
    places["link"].symlink_to(place / "known")
    places["twin"].hardlink_to(place / "known")
    os.mkfifo(places["pipe"], 0o600)
    return places


def test_a_secret_others_may_know_is_made_anew(place: Path):
    for name, path in spoilt_secrets(place).items():
        secret = secret_of(path.parent)
        assert secret is not None, name
        assert secret.strip(b"k"), name
        assert secret_of(path.parent) == secret
    assert (place / "known").read_bytes() == b"k" * 32


def test_where_no_secret_can_be_kept_there_is_none(place: Path):
    (place / "secret").mkdir()
    assert secret_of(place) is None
    assert secret_of(place / "nowhere") is None
    assert [path.name for path in place.iterdir()] == ["secret"]


def test_what_a_killed_command_left_of_a_secret_is_swept(place: Path):
    (place / "secret-abc").write_bytes(b"half")
    assert secret_of(place)
    assert [path.name for path in place.iterdir()] == ["secret"]


def test_a_place_that_is_read_only_has_no_secret_and_no_file(plain_place: Path):
    plain_place.chmod(0o500)
    assert private_folder(WARDROBE) is None
    assert secret_of(plain_place) is None
    with pytest.raises(PermissionError):
        make_ready(file_of(plain_place, WARDROBE))


def test_two_wardrobes_never_share_a_file(place: Path, tmp_path: Path):
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
    (tmp_path / "same").symlink_to(tmp_path / "one")
    one, other, same = (file_of(place, tmp_path / name) for name in ("one", "other", "same"))
    assert one == same
    assert one != other


def test_a_new_file_is_empty_and_closed_to_others(place: Path):
    before = os.umask(0)
    try:
        make_ready(place / "file")
    finally:
        os.umask(before)
    assert mode(place / "file") == 0o600
    assert (place / "file").read_bytes() == b""


def test_what_stands_in_the_place_of_a_file_is_taken_away(place: Path, tmp_path: Path):
    diary = tmp_path / "diary"
    diary.write_bytes(b"mine")
    path = place / "file"
    for make in (
        lambda at: at.symlink_to(diary),
        lambda at: at.hardlink_to(diary),
        lambda at: at.symlink_to("nowhere"),
        os.mkfifo,
    ):
        for end in ("", "-journal", "-wal", "-shm"):
            make(path.with_name(f"file{end}"))
        make_ready(path)
        assert list(place.iterdir()) == [path]
        assert path.read_bytes() == b""
        assert diary.read_bytes() == b"mine"
        path.unlink()
    path.write_bytes(b"kept")
    make_ready(path)
    assert path.read_bytes() == b"kept"


def test_a_folder_in_the_place_of_a_file_is_left_alone(place: Path):
    path = place / "file"
    for end in ("", "-journal"):
        path.with_name(f"file{end}").mkdir()
        with pytest.raises(OSError, match=r"directory|permitted"):
            make_ready(path)
        path.with_name(f"file{end}").rmdir()


def test_files_that_were_not_used_for_longest_make_room(
    place: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(private, "LARGEST_TOGETHER", 250)
    for day, name in enumerate(("oldest", "older", "old", "young")):
        (place / f"{name}.sqlite").write_bytes(b"x" * 100)
        os.utime(place / f"{name}.sqlite", (day, day))
    secret_of(place)
    assert not file_of(place, WARDROBE).exists()
    names = {path.stem for path in place.iterdir()}
    assert names == {"old", "young", "secret"}


def test_a_file_that_is_used_is_young(place: Path):
    path = file_of(place, WARDROBE)
    make_ready(path)
    os.utime(path, (0, 0))
    file_of(place, WARDROBE)
    assert path.stat().st_mtime > 0
