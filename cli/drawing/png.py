"""A picture as PNG, drawn from its SVG, with words in a face that is always at hand."""

from pathlib import Path

_WIDEST = 1600  # pixels: sharp on a page, and small enough to send


def png_bytes(svg: str, width: int = _WIDEST) -> bytes:
    """Return an SVG document as PNG on white, so many pixels wide."""
    import reportlab  # noqa: PLC0415
    import resvg_py  # noqa: PLC0415

    fonts = Path(reportlab.__file__).parent / "fonts"
    drawn = resvg_py.svg_to_bytes(
        svg_string=svg,
        width=width,
        background="#ffffff",
        sans_serif_family="Bitstream Vera Sans",
        font_files=[str(fonts / name) for name in ("Vera.ttf", "VeraBd.ttf")],
    )
    return bytes(drawn)
