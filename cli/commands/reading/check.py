"""trueup check: do the seams sew together, the darts close and the lines run on smoothly."""

from trueup.cli.failures import OPEN
from trueup.cli.json import forms as json_forms
from trueup.cli.opening import reading
from trueup.cli.options import shared as options
from trueup.cli.page import show
from trueup.cli.render.patterns.findings import finding_lines
from trueup.lineage.replay.standing import standing


def check(
    node: options.Node,
    as_of: options.AsOf = None,
    as_json: options.Json = False,
    folder: options.Folder = None,
) -> int:
    """Check that a block or pattern is true.

    Seams walk within the ease they are allowed, dart legs are equal, outlines do not cross
    themselves, armhole, neck and hem run on smoothly across the seams. Exits with 1 when something
    is open; what the maker has accepted is shown and does not count. A piece for which no seam is
    stated cannot be checked, and is not called true. What a correction and the
    pattern disagree about is listed by `conflicts`.
    """
    with reading(folder, as_of) as wardrobe:
        found = standing(wardrobe.evaluator, node)
        unit, commands = wardrobe.state.unit, wardrobe.commands
        waiting = wardrobe.state.node(node).open_conflicts
    if as_json:
        wardrobe.write(json_forms.findings(node, found))
    else:
        show(*finding_lines(node, found, waiting, unit, commands))
    return OPEN if any(each.is_open for each in found) else 0
