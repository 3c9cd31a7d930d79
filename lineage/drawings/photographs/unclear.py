"""What a picture does not show clearly enough to be measured."""

from trueup.geometry.lines.points import Point
from trueup.geometry.said import Said
from trueup.lineage.drawings.photographs.view import TableView, one


class Unclear(Exception):
    """What cannot be measured: why, and what would help.

    `at` is where on the table, mm; a maker is told where in the picture.
    """

    def __init__(self, reason: Said, remedy: str, at: Point | None = None) -> None:
        super().__init__(reason)
        self.reason = reason
        self.remedy = remedy
        self.at = at

    def placed(self, view: TableView | None) -> Said:
        """Return why, with how far across and down the picture it is, in hundredths."""
        if self.at is None or view is None:
            return self.reason
        seen = view.seen(one(self.at))[0]
        across, down = 100 * seen.real / view.width, 100 * seen.imag / view.height
        place = {"across": f"{across:.0f}", "down": f"{down:.0f}"}
        return Said(self.reason.what, {**self.reason.facts, **place}, self.reason.also)
