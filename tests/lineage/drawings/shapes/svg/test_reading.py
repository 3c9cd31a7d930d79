"""SVG as editors and libraries write it comes in true to what was drawn."""

import io
import math
import re

import pytest
import svgelements

from tests.lineage.drawings.editors import WRITERS, path_data
from tests.lineage.drawings.sampled import apart, line_of, outlines, sampled
from tests.refusals import refusing
from trueup.lineage.drawings.shapes.svg.reading import read_svg
from trueup.lineage.errors import BadRecord

SVG = 'svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
MM = f'<{SVG} width="200mm" height="100mm" viewBox="0 0 200 100">'
PX = 25.4 / 96


def shapes(inside, head=MM):
    return read_svg(f"{head}{inside}</svg>".encode(), "x.svg").shapes


@pytest.mark.parametrize("writer", WRITERS)
def test_every_line_lies_where_it_was_drawn(writer):
    drawn = outlines()
    page = read_svg(WRITERS[writer](drawn), "x.svg")
    assert len(page.shapes) == len(drawn)
    assert page.is_sized == (writer not in ("reportlab", "drawsvg", "symbols"))
    for shape, line in zip(page.shapes, drawn, strict=True):
        assert shape.is_closed
        found = list(map(list, shape.chain.cubics))
        if writer == "reportlab":  # writes pt, calls them px, and rounds its page to whole ones
            scale = line_of(line).length / line_of(found).length
            assert scale == pytest.approx(96 / 72, rel=1e-3)
            shift = line[0][0] - found[0][0] * scale
            found = [[p * scale + shift for p in cubic] for cubic in found]
        strays = apart(found, line)
        assert strays < 0.05


@pytest.mark.parametrize(
    "inside",
    [
        '<path d="M 10 20 A 30 15 20 0 1 60 40 a25,25 -30 1,0 50-25" fill="none" stroke="#000"/>',
        '<path d="M10,80 q 20 -30 40 0 t 40 0 c 3 4 9 9 10 0 s 20 40 40 -10 v-5 h-3z"/>',
        '<rect x="10" y="5" width="80" height="40" rx="12"/>',
        '<rect x="1cm" y="5" width="80" height="40" rx="50" ry="3"/>',
        '<circle cx="50" cy="50" r="40"/>',
        '<ellipse cx="50" cy="50" rx="40" ry="10" transform="rotate(20) scale(1.5 0.7)"/>',
        '<polygon points="1,2 30,4 20,50" transform="skewX(12) translate(30 3)"/>',
        '<g transform="matrix(1 .2 -.3 1.1 5 -6)"><polyline points="1 2 30 4 20 50"/></g>',
        '<line x1="3" x2="90" y1="2" y2="70" stroke="red"/>',
    ],
)
@pytest.mark.parametrize(
    "head",
    [
        MM,
        f'<{SVG} width="7.5in" height="4in" viewBox="-10 -20 200 100">',
        f'<{SVG} width="600" height="500px" viewBox="0 0 200 100" preserveAspectRatio="xMaxYMin">',
    ],
)
def test_an_independent_reader_sees_the_same_lines(inside, head):
    (ours,) = shapes(inside, head)
    parsed = svgelements.SVG.parse(io.StringIO(f"{head}{inside}</svg>"), ppi=96, reify=True)
    (theirs,) = (e for e in parsed.elements() if isinstance(e, svgelements.Shape))
    path = abs(svgelements.Path(theirs))
    points = []
    for segment in path:
        if isinstance(segment, svgelements.Move):
            continue
        count = 2 if isinstance(segment, svgelements.Line | svgelements.Close) else 100
        for k in range(count):
            here, there = (segment.point(t / count) for t in (k, k + 1))
            points.append([complex(here.x, here.y) * PX, complex(there.x, there.y) * PX])
    points = [curve for curve in points if curve[0] != curve[1]]
    strays = apart(list(map(list, ours.chain.cubics)), points)
    assert strays < 0.01


def test_a_page_may_be_stretched():
    head = f'<{SVG} width="300pt" height="50pc" viewBox="0 0 200 100" preserveAspectRatio="none">'
    (shape,) = shapes('<circle cx="50" cy="50" r="40"/>', head)
    across, down = 300 * 25.4 / 72 / 200, 50 * 25.4 / 6 / 100
    for point in sampled(map(list, shape.chain.cubics)):
        at = complex(point.real / across, point.imag / down)
        assert abs(at - (50 + 50j)) == pytest.approx(40, abs=1e-4)


def test_layers_labels_and_texts_come_with_the_lines():
    inside = (
        '<g id="layer3" inkscape:label="Front" xmlns:inkscape="urn:x"><title>bodice</title>'
        '<path id="path12" inkscape:label="side" d="M 1 1 h 40 v 30 z"/>'
        '<text x="10" y="20" transform="translate(1 2)"><tspan>cut 1</tspan>'
        '<tspan x="10" y="25">on fold</tspan></text></g>'
    )
    page = read_svg(f"{MM}{inside}</svg>".encode(), "x.svg")
    (shape,) = page.shapes
    assert shape.groups == ("Front", "bodice", "layer3")
    assert (shape.id, shape.labels) == ("path12", ("side", "path12"))
    assert [(text.says, text.at) for text in page.texts] == [
        ("cut 1", 11 + 22j),
        ("on fold", 11 + 27j),
    ]


def test_what_does_not_show_on_paper_is_left_out_and_told():
    inside = (
        '<g style="display:none"><path d="M 1 1 h 40"/></g><style>.w{fill:#FFF}</style>'
        '<path class="w" d="M 1 1 h 40 v 30 z"/><path d="M 1 1 h 40 v 30 z"/>'
        '<image href="data:image/png;base64,AAAA"/><clipPath><rect width="9" height="9"/>'
        "</clipPath>"
    )
    page = read_svg(f"{MM}{inside}</svg>".encode(), "x.svg")
    assert len(page.shapes) == 1
    assert len(page.notes) == 3


def test_a_page_says_how_its_size_was_known():
    for head, says, mm in (
        (f"<{SVG}>", "no viewBox", PX),
        (f'<{SVG} width="90">', "no viewBox", PX),
        (f'<{SVG} viewBox="0 0 10 10">', "no size on paper", PX),
        (f'<{SVG} width="20" height="20" viewBox="0 0 10 10">', "in px", 2 * PX),
        (f'<{SVG} width="20cm" viewBox="0 0 10 10">', "20cm", 20),
    ):
        page = read_svg(f'{head}<path d="M 0 0 h 8"/></svg>'.encode(), "x.svg")
        assert says in page.size
        assert page.is_sized == (mm == 20)
        assert math.isclose(page.shapes[0].length, 8 * mm)


def test_each_run_of_a_path_is_a_line_of_its_own_and_every_id_its_own():
    found = shapes(
        '<path id="a" d="M 0 0 h 30 v 20 z m 5 5 h 3 M 0 50 h 10 v 5 l -10 -5"/>'
        '<g id="b"><path d="M 0 0 h 9"/></g><use href="#b"/><use href="#b" x="5"/>'
    )
    assert [shape.is_closed for shape in found] == [True, False, True, False, False, False]
    assert len({shape.id for shape in found}) == 6
    assert found[-1].chain.start == pytest.approx(5)


HOSTILE = {
    "an entity": '<!DOCTYPE svg [<!ENTITY a "aa">]>' + MM + "&a;</svg>",
    "a file outside": '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + MM + "&a;</svg>",
    "a script": MM + "<script>1</script></svg>",
    "a handler": MM + '<g onload="1"/></svg>',
    "a use of another file": MM + '<use href="other.svg#a"/></svg>',
    "a picture elsewhere": MM + '<image href="https://example.org/a.png"/></svg>',
    "a use of itself": MM + '<g id="a"><use href="#a"/><path d="M 0 0 h 9"/></g></svg>',
    "uses that double": MM
    + "".join(f'<g id="u{n}"><use href="#u{n + 1}"/><use href="#u{n + 1}"/></g>' for n in range(40))
    + '<g id="u40"><path d="M 0 0 h 9"/></g></svg>',
    "no number": MM + '<path d="M nan 0 L 1 1"/></svg>',
    "no flag": MM + '<path d="M 0 0 A 5 5 0 2 0 9 9"/></svg>',
    "an endless radius": MM + '<path d="M 0 0 A 1e300 5 0 1 0 9 9"/></svg>',
    "an endless scale": MM
    + '<g transform="scale(1e200) scale(1e200)"><path d="M 0 0h9"/></g></svg>',
    "a million points": MM + f'<path d="M 0 0 {"l 1 1 " * 60_000}"/></svg>',
    "a page of no size": f'<{SVG} width="200mm" viewBox="0 0 0 100"></svg>',
    "a page without end": f'<{SVG} width="1e300mm" viewBox="0 0 9 100"></svg>',
    "a page in letters": f'<{SVG} width="20em" viewBox="0 0 9 100"></svg>',
    "moved by its style": MM + '<path style="transform: scale(2)" d="M 0 0 h 9"/></svg>',
}


@pytest.mark.parametrize("content", HOSTILE.values(), ids=HOSTILE)
def test_what_could_harm_is_refused_in_a_sentence(content):
    with refusing(BadRecord, match="stranger.svg"):
        read_svg(content.encode(), "stranger.svg")


def test_many_decimals_change_nothing():
    (line,) = outlines()[:1]
    many = re.sub(r"(\d)(?=[, ])", r"\g<1>000000000", path_data(line, digits=6) + " ")
    (one,) = shapes(f'<path d="{many}"/>')
    assert apart(list(map(list, one.chain.cubics)), line) < 1e-5
