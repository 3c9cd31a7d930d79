"""A picture as PNG, drawn from its SVG, with words in a face that is always at hand."""

from pathlib import Path

from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_text
from trueup.cli.terminal.typesetting import Signs

_SHARP = 1.6  # pixels to the width of a seam line
_TYPED = Signs(are_real=False)
_WIDEST = 8000  # pixels, what most viewers still open


def png_bytes(scene: Scene) -> bytes:
    """Return a picture as PNG on white; a very wide one is made smaller."""
    import reportlab  # noqa: PLC0415
    import resvg_py  # noqa: PLC0415

    fonts = Path(reportlab.__file__).parent / "fonts"
    drawn = resvg_py.svg_to_bytes(
        svg_string=svg_text(scene, signs=_TYPED),  # the face has no arrow
        width=min(round(_SHARP * scene.width / scene.pen), _WIDEST),
        background="#ffffff",
        sans_serif_family="Bitstream Vera Sans",
        font_files=[str(fonts / name) for name in ("Vera.ttf", "VeraBd.ttf")],
    )
    return bytes(drawn)
