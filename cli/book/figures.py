"""Pictures on a page: a scene as SVG inside the HTML."""

from markupsafe import Markup

from trueup.cli.drawing.scene.scene import Scene
from trueup.cli.drawing.scene.writer import svg_text

_DECLARATION_ENDS = "?>\n"


def figure(scene: Scene, number: int) -> Markup:
    """Return a picture as HTML; `number` keeps it apart from the others of its page.

    It can be moved about by keyboard where it is wider than the page.
    """
    # The writer escapes every text it writes, so what it wrote is markup.
    drawn = Markup(svg_text(scene, prefix=f"figure-{number}.").partition(_DECLARATION_ENDS)[2])
    return Markup('<div class=picture tabindex=0 role=group aria-label="{}">{}</div>').format(
        f"Picture: {scene.title}", drawn
    )
