"""Which file extension asks for which format.

A new format is one function that returns the file's content, and one line in FORMATS. What a
format needs is imported when it is asked for, so that no other verb waits for it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from trueup.cli.exporting.exported import Exported
from trueup.cli.failures import Misused


@dataclass(frozen=True)
class Format:
    """A kind of file: what it holds, in words that end a sentence, and what writes it."""

    says: str
    content: Callable[[Exported], bytes]


def _svg(exported: Exported) -> bytes:
    from trueup.cli.drawing.svg import draft_svg  # noqa: PLC0415
    from trueup.lineage.drawings.tracing.drawing import describing  # noqa: PLC0415

    drawing = draft_svg(exported.draft, exported.node)
    return describing(drawing, exported.draft).encode("utf-8")


def _dxf(exported: Exported) -> bytes:
    from trueup.cli.exporting.dxf import draft_dxf  # noqa: PLC0415

    return draft_dxf(exported.draft, exported.node)


def _pdf(exported: Exported) -> bytes:
    from trueup.cli.exporting.page_pdf import page_pdf  # noqa: PLC0415

    return page_pdf(exported.draft, exported.facts)


def _png(exported: Exported) -> bytes:
    from trueup.cli.drawing.draft_picture import draft_picture  # noqa: PLC0415
    from trueup.cli.drawing.scene.png import png_bytes  # noqa: PLC0415

    return png_bytes(draft_picture(exported.draft, exported.node))


def _csv(exported: Exported) -> bytes:
    from trueup.cli.exporting.measures_csv import measures_csv  # noqa: PLC0415

    return measures_csv(exported.summary.measures, exported.facts.unit)


def _json(exported: Exported) -> bytes:
    from trueup.cli.exporting.everything_json import everything_json  # noqa: PLC0415

    return everything_json(exported)


FORMATS = {
    ".svg": Format("a drawing at true scale, one unit a millimetre", _svg),
    ".dxf": Format("seam lines, cutting lines and marks on the layers of ASTM D6673, in mm", _dxf),
    ".pdf": Format("one page at true scale with a test square; `sheet` prints it on paper", _pdf),
    ".png": Format("a picture with its cutting lines, not to scale", _png),
    ".csv": Format("its measures, a line each", _csv),
    ".json": Format("everything known of it, lengths in mm", _json),
}
"""The formats by extension, in the order they are told to a maker."""


def format_of(file: Path) -> Format:
    """Return the format a file's extension asks for; raises Misused with those there are."""
    found = FORMATS.get(file.suffix.lower())
    if found is None:
        known = [f"{file.stem or 'NAME'}{suffix}" for suffix in FORMATS]
        raise Misused(
            f"{file} does not end as a file that can be written; call it {', '.join(known[:-1])} "
            f"or {known[-1]}."
        )
    return found
