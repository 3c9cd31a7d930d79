"""The one document that is served: a frame without a word of the wardrobe in it.

What stands in it, its pages, is asked for by its script, with the token. Whoever has no token gets
the frame, and nothing else.
"""

from dataclasses import dataclass
from pathlib import Path

from trueup.cli.book.addresses import menu
from trueup.cli.book.document import STYLES, TURNING, policy, shell
from trueup.cli.book.templating import page

_PAGE = Path(__file__).parent / "page"
_STYLES = ("look.css", "steps/steps.css", "tracing/tracing.css")
_ASKING = ("asking.js", "served.js")
_LIVING = (
    "following.js",
    "steps/stepping.js",
    "steps/deciding.js",
    "lengths.js",
    "offering.js",
    "rail.js",
    "previewing.js",
    "steps/foretelling.js",
    "steps/asked_form.js",
    "steps/reading.js",
    "steps/printing.js",
    "steps/pinning.js",
    "steps/altering.js",
    "steps/photo.js",
    "steps/phoning.js",
    "steps/noting.js",
    "steps/stepping_on.js",
    "trying.js",
    "tracing/tracing.js",
)
_OPENING = "Opening the wardrobe. If this stays, open the address again that `trueup look` printed."
_NO_SCRIPT = "The pages of a live wardrobe are turned by a script; turn scripts on for this page."


@dataclass(frozen=True)
class LiveFrame:
    """The frame as HTML, and the content security policy it is served with."""

    html: str
    policy: str


def made_frame() -> LiveFrame:
    """Return the frame; it is the same for every wardrobe."""
    style = shell(STYLES) + "\n" + shell(_STYLES, folder=_PAGE)
    script = (
        shell(_ASKING, '"use strict";\n', _PAGE)
        + "\n"
        + shell(TURNING)
        + "\n"
        + shell(_LIVING, folder=_PAGE)
        + "\n"
        + shell(("beginning.js",))
    )
    allowed = f"{policy(script, style)}; connect-src 'self'"
    head = page(
        "book.html",
        name="trueup",
        stands="",
        policy=allowed,
        style=style,
        menu=menu(None),
        opening=_OPENING,
        no_script=_NO_SCRIPT,
    )
    html = f"{head}<script>{script}</script>\n</body>\n</html>\n"
    return LiveFrame(html, f"{allowed}; frame-ancestors 'none'")
