"""What reads text or bytes from outside, each as one function that only declared errors may leave.

Whatever is read is used as well: evaluated, written again and read back, for what passes a reader
and breaks what comes after it. Any other exception than a declared one is a find.
"""

import contextlib
import io
import os
import shlex
import tempfile
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import tomli

from tests.builders import block
from tests.lineage.files.refusing import BLOCK, FULL
from tests.lineage.making import block as block_record
from trueup.cli.drawing.svg import draft_svg
from trueup.cli.json import bodies as json_bodies
from trueup.cli.main import main
from trueup.cli.wording.words import worded_error
from trueup.geometry.amounts import BoundLength, read_length, written_length
from trueup.geometry.changes import kind_named, read_change
from trueup.geometry.changes.base import Change
from trueup.geometry.cloth.cutting_line import cutting_line
from trueup.geometry.errors import GeometryError
from trueup.geometry.measuring.checks import check
from trueup.geometry.measuring.measures import measures
from trueup.geometry.pieces.allowances import allowed
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.position import Position
from trueup.geometry.units import Unit, format_length, parse_length, write_length
from trueup.lineage.bodies.growing import may_be_a_child
from trueup.lineage.drawings.outline import outline_svg, read_outline
from trueup.lineage.drawings.tracing.drafting import draft_from
from trueup.lineage.drawings.tracing.drawing import describing
from trueup.lineage.errors import WardrobeError
from trueup.lineage.evaluation.cache import NoCache
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.files.bodies.known import known_of
from trueup.lineage.files.bodies.reading import read_body
from trueup.lineage.files.bodies.writing import body_text
from trueup.lineage.files.fitting import read_fitting
from trueup.lineage.files.garment_files import read_garment
from trueup.lineage.files.garment_writing import garment_text
from trueup.lineage.files.photos import read_photo
from trueup.lineage.files.reading import read_node, read_settings
from trueup.lineage.files.records import Settings, replace
from trueup.lineage.files.state import State
from trueup.lineage.files.writing import node_text
from trueup.lineage.sizes.run import make_sizes
from trueup.lineage.sizes.table import read_table
from trueup.lineage.store.git.history import compose_message, parse_message

Target = Callable[[bytes], None]
DECLARED = (GeometryError, WardrobeError)
NODE, BLOCK_FILE = "patterns/blouse.toml", "blocks/blouse.toml"
GARMENT = "garments/linen.toml"
BODY = "bodies/linen.toml"


def only_declared(target: Target, content: bytes) -> None:
    """Run a target; its declared errors are answers, and each is one sentence."""
    try:
        target(content)
    except DECLARED as error:
        told = worded_error(error)
        assert "\n" not in told, f"more than one line: {told!r}"
        assert told.isprintable(), f"it acts on a terminal: {told!r}"
        assert len(told) < 2000, f"{len(told)} characters"


def _text(content: bytes) -> str:
    return content.decode("utf-8", "surrogateescape")


def length(content: bytes) -> None:
    """A length: read, shown, written and read again as the same."""
    for unit in Unit:
        mm = parse_length(_text(content), unit)
        format_length(mm, unit)
        assert parse_length(write_length(mm)) == mm


def position(content: bytes) -> None:
    """A position: read, written and read again as the same, found on an edge."""
    found = Position.parse(_text(content))
    assert Position.parse(str(found)) == found
    found.along(block().piece("front").edge("armhole"))


def redrawn(content: bytes) -> None:
    """The places a line is drawn through by hand."""
    values = {"edge": "front.armhole", "through": _text(content)}
    _carried_out(read_change(kind_named("redraw-edge"), values, Unit.MILLIMETRE), block())


def _carried_out(change: Change, draft: Draft) -> Draft:
    assert change.in_words(Unit.INCH)
    changed = change.apply(draft)
    measures(changed)
    check(changed)
    return changed


def node(content: bytes) -> None:
    """The file of a block or pattern: read, evaluated below a block, written again as the same."""
    is_block = b"[draft]" in content or b"[traced]" in content
    found = read_node(BLOCK_FILE if is_block else NODE, content)
    written = node_text(found, content)
    is_newer = tomli.loads(written.decode())["format"] > tomli.loads(content.decode())["format"]
    _written_the_same(written, content if not is_newer else node_text(found, written))
    if not found.traced:  # its geometry stands in a drawing beside it
        assert read_node(found.path, node_text(found)) == found
    village = block_record("village")
    beside = {p.name: replace(village, name=p.name) for p in found.followed}
    state = State(Settings("theatre", "cm"), {village.name: village, **beside, found.name: found})
    _ = state.graph
    _evaluator(state).summary(found.name)


def _evaluator(state: State) -> Evaluator:
    """Return an evaluator for which every version is this one."""
    return Evaluator(state, NoCache(), lambda _: _evaluator(State(state.settings, state.nodes)))


def _written_the_same(written: bytes, content: bytes) -> None:
    """Tables may be written in another order where others stood among them; no word is lost."""
    assert tomli.loads(written.decode()) == tomli.loads(content.decode())
    assert len(written) >= len(content) - content.count(b"\n")


def settings(content: bytes) -> None:
    """The settings of a wardrobe."""
    read_settings("wardrobe.toml", content)


def garment(content: bytes) -> None:
    """The file of a garment: read, and written again as the same."""
    found = read_garment(GARMENT, content)
    _written_the_same(garment_text(found, content), content)
    assert read_garment(GARMENT, garment_text(found)) == found


def body(content: bytes) -> None:
    """The file of a body: read, what is known of it looked up, and written again as the same."""
    found = read_body(BODY, content)
    _written_the_same(body_text(found, content), content)
    assert read_body(BODY, body_text(found)) == found
    state = State(Settings("theatre", "cm"), {}, bodies={found.name: found})
    may_be_a_child(found, state.unit)
    if found.sets:
        assert known_of(found).date == found.sets[-1].date
    json_bodies.bodies(state)


def fitting(content: bytes) -> None:
    """A fitting: read, and carried out on a block."""
    draft = block()
    for change in read_fitting("fitting.toml", content, Unit.CENTIMETRE).changes:
        draft = _carried_out(change, draft)


def bound(content: bytes) -> None:
    """An amount bound to the body: worked out, and written as it was."""
    text = _text(content)
    body = {"bust": (880.0,), "waist": (700.0,), "hip": (940.0, 950.0)}
    mm = read_length(text, Unit.CENTIMETRE, body)
    if isinstance(mm, BoundLength):
        assert written_length(mm) == text.strip()


def size_table(content: bytes) -> None:
    """A size table, as CSV and as TOML: read, and the sizes of a block made of it."""
    village = State(Settings("theatre", "cm"), {"village": block_record("village")})
    for place in ("sizes.csv", "sizes.toml"):
        with contextlib.suppress(WardrobeError):
            table = read_table(place, content)
            edit = make_sizes(village, "village", table, place, "")
            assert all(read_node(each.path, node_text(each)) == each for each in edit.nodes)


def drawing(content: bytes) -> None:
    """A drawing of named lines: made into a draft, and drawn again."""
    draft = draft_from(content, {}, "drawn.svg", others=True).draft
    draft_svg(draft, "drawn")


def outline(content: bytes) -> None:
    """The outline of cut cloth."""
    for cloth in read_outline(content, "garments/linen.svg").values():
        assert cloth.area >= 0


def photo(content: bytes) -> None:
    """A photo of a worn garment."""
    with tempfile.NamedTemporaryFile(suffix=".jpg") as file:
        file.write(content)
        file.flush()
        read_photo(Path(file.name))


def message(content: bytes) -> None:
    """The message of a commit."""
    text = content.decode("utf-8", "replace")
    subject, _, trailers = parse_message(text)
    if subject.replace("\0", "").strip():  # a step has a first line
        compose_message(subject, trailers)


def command_line(content: bytes) -> None:
    """A command line: only an exit code that is promised, and at most sentences."""
    try:
        words = shlex.split(_text(content))
    except ValueError:
        words = _text(content).split()
    words = [word for word in words if "/" not in word and not word.startswith("-C")]
    words = ["-C", os.environ["TRUEUP_FUZZED"], *words]
    out, err = io.StringIO(), io.StringIO()
    before = Path.cwd()
    with tempfile.TemporaryDirectory() as place:
        os.chdir(place)  # what is written goes where it does no harm
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                code = main(words)
        finally:
            os.chdir(before)
    assert code in (0, 1, 2, 3), (words, code)
    for sign in ("Traceback", "did not expect"):
        assert sign not in err.getvalue(), (words, err.getvalue())


@cache
def seeds() -> Mapping[str, tuple[bytes, ...]]:
    """Return sound examples of what each target reads."""
    frozen = Path(__file__).parents[1] / "frozen"
    nodes = [file.read_bytes() for file in sorted(frozen.glob("format-*/*/*.toml"))]
    pieces = [allowed(piece, {}) for piece in block().pieces]
    draft = block().with_pieces(*pieces)
    cloth = {piece.name: cutting_line(piece) for piece in draft.pieces}
    return {
        "length": tuple(text.encode() for text in ("12mm", "1.2 cm", '3 3/8"', "-½in", "1e2", "7")),
        "position": (b"60mm from underarm", b"40% from shoulder-point", b"1,5 cm from neck-point"),
        "redrawn": (b"30%:20mm 70%:35mm", b"50%:-12mm", b"10mm:1cm 99%:0"),
        "node": (
            FULL.encode(),
            _ANEW,
            *(renamed(text, "blouse") for text in (BLOCK.encode(), *nodes)),
        ),
        "settings": (b'format = 1\nname = "theatre"\nunit = "cm"\n',),
        "garment": (_GARMENT,),
        "body": (_BODY,),
        "fitting": (_FITTING,),
        "bound": (b"4% of waist", b"bust/24 + 1cm", b"1/8 bust - 1 1/2in", b"(bust - waist)*0,25"),
        "size_table": (
            b"size,bust,waist,back-length,sleeve-length\ns,84,64,37,53\nl,92cm,72cm,39,55\n",
            b'[12]\nbust = "88cm"\nwaist = 68\nback-length = 38\nsleeve-length = 54\n',
        ),
        "drawing": (describing(draft_svg(block(), "b"), block()).encode(), _LINES),
        "outline": (outline_svg(draft, cloth, "linen"),),
        "photo": _photos(),
        "message": (b"Scoop the armhole\n\nIt binds.\n\nTrueup-Verb: correct\nTrueup-Node: b\n",),
        "command_line": tuple(line.encode() for line in _COMMANDS),
    }


def renamed(record: bytes, name: str) -> bytes:
    """Return a file under the name that its target reads it by."""
    lines = record.split(b"\n")
    named = [n for n, line in enumerate(lines) if line.startswith(b"name = ")]
    if named:
        lines[named[0]] = f'name = "{name}"'.encode()
    return b"\n".join(lines)


def _photos() -> tuple[bytes, ...]:
    from PIL import Image  # noqa: PLC0415

    found = []
    for kind, mode in (("JPEG", "RGB"), ("PNG", "RGBA"), ("PNG", "P"), ("WEBP", "RGB")):
        stream = io.BytesIO()
        Image.new(mode, (9, 7), 3).save(stream, kind)
        found.append(stream.getvalue())
    return tuple(found)


_GARMENT = b"""\
format = 1
name = "linen"
pattern = "blouse"
cut_from = "0123456789012345678901234567890123456789"
cut_on = 2025-03-01
status = "worn"
fabric = "linen"
wearer = "Marta"
stitched_down = ["front.neck"]

[allowances]
"front.side" = 15.0

[[notes]]
id = "n1"
symptom = "armhole-binds"
place = "front.armhole"
side = "both"
date = 2025-03-02
amount_mm = 8.0
wearer = "Marta"
words = "binds"
photo = "photos/linen-n1.jpg"
resolved_by = ["a1"]
"""
_ANEW = b"""\
format = 1
name = "blouse"

[draft]
system = "bust-proportion"
bust = "93cm"
waist = "71cm"
back-length = "38cm"
sleeve-length = 540

[drafted_for]
body = "ada"
measured = 2026-03-31

[[remeasured]]
id = "9a12d67f"
was = {bust = "88cm", waist = "68cm"}
why = "a year later"
date = 2026-03-31
"""
_BODY = b"""\
format = 1
name = "linen"
wearer = "Marta"

[[sets]]
date = 2025-03-01
taken_by = "Mina"
age = 9
words = "over a shift"
bust = "92cm"
waist = 70
height = "1.4e2 cm"

# grown
[[sets]]
date = 2025-09-01
bust = "93cm"
"""
_FITTING = b"""\
why = "the armhole binds"

[[corrections]]
kind = "scoop-armhole"
piece = "front"
by = "20mm"

[[corrections]]
kind = "rotate-dart"
dart = "front.bust"
edge = "front.side"
at = "35% from underarm"

[[corrections]]
kind = "refit-cap"
to = 35
"""
_LINES = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">'
    b'<path id="front.a" d="M0,0 L80,0"/><path id="front.b" d="M80,0 C90,20 90,40 80,80"/>'
    b'<path id="front.c" d="M80,80 L0,80 L0,0"/><path id="front.grainline" d="M40,10 V70"/></svg>'
)
_COMMANDS = (
    "tree --json",
    "history --last 3 --effects",
    "history --since 2025-03-01",
    "measure village front.shoulder --over-time",
    "check village",
    "walk village side-seam",
    "explain blouse --markdown",
    "compare village --from HEAD~1 --align front.side",
    "correct village scoop-armhole --piece front --by '1 1/2in' --preview",
    "style blouse redraw-edge --edge front.armhole --through '30%:20mm 70%:40mm' --preview",
    "amend easy a1 --by 2mm --preview",
    "derive new --from village:front,back --preview",
    "draft new --bust 88 --waist 68 --back-length 38 --sleeve-length 54 --preview",
    "draft new --for marta --date 2025-03-31 --waist 68 --preview",
    "remeasure village --for Marta --preview",
    "body marta --bust 88cm --age 9 --date 2025-02-30 --also instep=2cm",
    "history --body Marta --effects",
    "cut blouse --name x --date 2025-02-30 --stitched-down front.neck",
    "note linen armhole-binds --place front.armhole --amount 1cm --side left",
    "sheet blouse x.pdf --paper 91.4cm --lines seam,changes --cut-list --cloth-width 140",
    "alter linen --least 6mm",
    "diagnose blouse armhole-binds --place bust --amount 5mm",
    "promote blouse x --to village --scaled --preview",
    "shared village front.armhole --all --single",
    "fit-from linen",
    "conflicts --all",
    "graft blouse --onto village --as x --preview",
    "style blouse lengthen --by 'bust/24 + 1cm' --preview",
    "compare village --sizes",
    "decide seam-1 accept --why x --preview",
)

TARGETS: Mapping[str, Target] = {
    target.__name__: target
    for target in (
        length, position, redrawn, node, settings, garment, body, fitting, bound, size_table,
        drawing, outline, photo, message, command_line,
    )
}  # fmt: skip
