"""The one document that a phone is given: a form without a word of the wardrobe in it."""

from pathlib import Path

from trueup.cli.book.document import STYLES, policy, shell
from trueup.cli.book.templating import page
from trueup.cli.look.frame import LiveFrame
from trueup.cli.look.trying.became import TEMPLATES
from trueup.cli.options.symptom_help import symptoms_in_words
from trueup.lineage.limits import LARGEST_PHOTO, LONGEST_TEXT

_PAGE = Path(__file__).parents[1] / "page"


def made_form() -> LiveFrame:
    """Return the form; it is the same for every wardrobe and every garment."""
    style = shell(STYLES) + "\n" + shell(("look.css", "steps/steps.css"), folder=_PAGE)
    script = shell(("steps/phone_form.js",), '"use strict";\n', _PAGE)
    allowed = f"{policy(script, style)}; connect-src 'self'"
    head = page(
        "phone.html",
        TEMPLATES,
        policy=allowed,
        style=style,
        symptoms=list(symptoms_in_words()),
        largest=LARGEST_PHOTO,
        longest=LONGEST_TEXT,
    )
    html = f"{head}<script>{script}</script>\n</body>\n</html>\n"
    return LiveFrame(html, f"{allowed}; frame-ancestors 'none'")
