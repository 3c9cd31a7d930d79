"""Write a picture to the file a maker named, as SVG or PNG."""

from pathlib import Path

from trueup.cli.atomic_file import write_new
from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.failures import Misused

SUFFIXES = (".svg", ".png")


def require_picture(file: Path) -> None:
    """Raise Misused where a file is not named as a picture."""
    if file.suffix.lower() not in SUFFIXES:
        name = file.stem or "NAME"
        raise Misused(f"{file} is not named as a picture; call it {name}.svg or {name}.png.")


def save_picture(scene: Scene, file: Path, *, replace: bool) -> None:
    """Write a scene to a file; raises Misused where it may not be written, OSError."""
    require_picture(file)
    if file.suffix.lower() == ".svg":
        write_new(file, svg_text(scene).encode("utf-8"), replace=replace)
        return
    from trueup.cli.drawing.scene.png import png_bytes  # noqa: PLC0415

    write_new(file, png_bytes(scene), replace=replace)
