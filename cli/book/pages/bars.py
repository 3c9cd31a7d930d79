"""How much of a wanted change arrived, as a bar: an open box is what was wanted, the fill came."""

from markupsafe import Markup

from trueup.lineage.replay.verdicts import Carried

_WANTED = 100.0
_ROOM = 50.0  # for what came the wrong way, and for what came beyond
_HEIGHT = 12.0


def bar(carried: Carried) -> Markup:
    """Return the bar as SVG inside HTML, empty where nothing was wanted.

    It repeats figures that stand beside it, and so says nothing to who has the page read out.
    """
    if not carried.wanted_mm:
        return Markup("")
    share = (carried.got_mm or 0.0) / carried.wanted_mm
    end = min(max(_ROOM + _WANTED * share, 0.0), 2 * _ROOM + _WANTED)
    return Markup(
        '<svg class="bar" aria-hidden="true" focusable="false" viewBox="0 0 {across:g} {high:g}" '
        'width="{across:g}" height="{high:g}">'
        '<rect class="got" x="{left:.4g}" y="2" width="{width:.4g}" height="{inner:g}" />'
        '<rect class="wanted" x="{start:g}" y="1" width="{wanted:g}" height="{outer:g}" />'
        '<path class="nought" d="M{start:g} 0V{high:g}" /></svg>'
    ).format(
        across=2 * _ROOM + _WANTED,
        high=_HEIGHT,
        left=min(end, _ROOM),
        width=abs(end - _ROOM),
        inner=_HEIGHT - 4,
        start=_ROOM,
        wanted=_WANTED,
        outer=_HEIGHT - 2,
    )
