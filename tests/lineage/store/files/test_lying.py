"""What lies on the disk is the wardrobe's own by the same rule as what is recorded."""

from pathlib import Path

from trueup.lineage.store.files.lying import lying
from trueup.lineage.store.files.paths import is_owned

NAMES = ("x.toml", ".x.toml", "x.toml~", "x~y.toml", "x.y.toml", "~x", "x.")


def test_what_lies_there_is_owned_and_nothing_owned_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / "wardrobe.toml").touch()
    for above in ("patterns", "patterns/old", "patterns/.old", "patterns/old~", "elsewhere"):
        (tmp_path / above).mkdir(exist_ok=True)
        for name in NAMES:
            (tmp_path / above / name).touch()
    there = {
        path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*") if path.is_file()
    }
    found = lying(tmp_path, {}, "0" * 40)
    assert set(found) == {path for path in there if is_owned(path)}
    assert len(found) == 1 + 2 * 5
