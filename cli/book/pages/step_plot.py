"""How a length went from step to step, as a small plot: a tread for each, a thick one for now."""

from collections.abc import Sequence

from markupsafe import Markup, escape

_TREAD = 24.0  # pixels across
_HIGH = 48.0
_ROOM = 5.0  # above and below, so that no tread is cut
_LEAST = 2.0  # mm from top to bottom, so that what is hardly a change does not look like one


def step_plot(lengths: Sequence[float], title: str) -> Markup:
    """Return the plot as SVG inside HTML, its highest length at the top; lengths in mm.

    It shows how lengths go, and not from nought: what they come to is written beside it.
    """
    low, high = min(lengths), max(lengths)
    spread = max(high - low, _LEAST)
    middle = (low + high) / 2
    inner = _HIGH - 2 * _ROOM
    levels = [_HIGH / 2 - (mm - middle) / spread * inner for mm in lengths]
    drawn = f"M0 {levels[0]:.4g}" + "".join(
        f"V{level:.4g}H{place * _TREAD:g}" for place, level in enumerate(levels, start=1)
    )
    now = f"M{(len(levels) - 1) * _TREAD:g} {levels[-1]:.4g}h{_TREAD:g}"
    across = len(levels) * _TREAD
    return Markup(
        f'<svg class="plot" role="img" viewBox="0 0 {across:g} {_HIGH:g}" width="{across:g}" '
        f'height="{_HIGH:g}"><title>{escape(title)}</title><path d="{drawn}" />'
        f'<path class="now" d="{now}" /></svg>'
    )
