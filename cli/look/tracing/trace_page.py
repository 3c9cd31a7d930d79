"""The page on which a drawing becomes a block."""

from trueup.cli.book.templating import page
from trueup.cli.book.views import View
from trueup.cli.look.owning.desk import Desk
from trueup.cli.look.trying.became import TEMPLATES
from trueup.lineage.limits import LARGEST_PHOTO

_TITLE = "Make a block of a drawing"


def trace_page(desk: Desk, _: str) -> View:
    """Return the page."""
    content = page(
        "trace.html",
        TEMPLATES,
        title=_TITLE,
        unit=desk.source.unit.value,
        largest=LARGEST_PHOTO,
        too_large=f"That file is larger than {LARGEST_PHOTO // 1_000_000} MB; no drawing is.",
    )
    return View("trace", _TITLE, content)
