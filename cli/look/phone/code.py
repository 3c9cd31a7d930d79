"""The address for a phone as a QR code (ISO/IEC 18004): for the terminal, and for a page."""

import io

import segno
from markupsafe import Markup

_QUIET = 4  # modules of margin, as the standard asks


def in_letters(address: str) -> str:
    """Return the code in block letters, for a terminal."""
    stream = io.StringIO()
    _made(address).terminal(out=stream, border=_QUIET, compact=True)
    return stream.getvalue()


def as_picture(address: str, title: str) -> Markup:
    """Return the code as SVG, black on white whatever the page is."""
    drawn = _made(address).svg_inline(
        scale=4, border=_QUIET, dark="#000", light="#fff", omitsize=True
    )
    # What the library wrote holds no text of ours.
    return Markup('<div class=code role=img aria-label="{}">{}</div>').format(title, Markup(drawn))


def _made(address: str) -> segno.QRCode:
    return segno.make(address, micro=False, error="m")
