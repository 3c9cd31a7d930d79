"""The same lines, written as general-purpose libraries and editors of vector drawings write them.

A line is a list of curves, each two points (straight) or four (cubic), in mm; a drawing is lines.
Each writer returns the content of a file that shows them in black, and nothing else but what its
library always writes.
"""

import io

import cairocffi as cairo
import drawsvg
import matplotlib as mpl
import svgwrite
from matplotlib import patches
from matplotlib import pyplot as plt
from matplotlib.path import Path
from reportlab.graphics import renderSVG
from reportlab.graphics.shapes import Drawing
from reportlab.graphics.shapes import Path as Drawn

mpl.use("svg")

MM = 96 / 25.4
PT = 72 / 25.4
PAGE = (1400.0, 1000.0)


def path_data(line, scale=1.0, digits=6, closed=True):
    def at(point):
        return f"{point.real * scale:.{digits}f},{point.imag * scale:.{digits}f}"

    said = [f"M {at(line[0][0])}"]
    for curve in line:
        said.append(("L " if len(curve) == 2 else "C ") + " ".join(map(at, curve[1:])))
    return " ".join(said) + (" Z" if closed else "")


def svgwrite_file(lines):

    drawing = svgwrite.Drawing(
        size=(f"{PAGE[0]}mm", f"{PAGE[1]}mm"), viewBox=f"0 0 {PAGE[0]} {PAGE[1]}"
    )
    for line in lines:
        drawing.add(drawing.path(d=path_data(line), fill="none", stroke="black"))
    return drawing.tostring().encode()


def drawsvg_file(lines):

    drawing = drawsvg.Drawing(PAGE[0] * MM, PAGE[1] * MM)
    drawing.append(drawsvg.Rectangle(0, 0, PAGE[0] * MM, PAGE[1] * MM, fill="white"))
    for line in lines:
        path = drawsvg.Path(fill="none", stroke="black")
        path.M(line[0][0].real * MM, line[0][0].imag * MM)
        for curve in line:
            flat = [x * MM for p in curve[1:] for x in (p.real, p.imag)]
            (path.L if len(curve) == 2 else path.C)(*flat)
        drawing.append(path.Z())
    return drawing.as_svg().encode()


def cairo_file(lines):

    out = io.BytesIO()
    surface = cairo.SVGSurface(out, PAGE[0] * PT, PAGE[1] * PT)
    pen = cairo.Context(surface)
    pen.set_source_rgb(1, 1, 1)
    pen.paint()
    pen.scale(PT, PT)
    pen.set_source_rgb(0, 0, 0)
    pen.set_line_width(0.5)
    for line in lines:
        pen.move_to(line[0][0].real, line[0][0].imag)
        for curve in line:
            flat = [x for p in curve[1:] for x in (p.real, p.imag)]
            (pen.line_to if len(curve) == 2 else pen.curve_to)(*flat)
        pen.close_path()
        pen.stroke()
    surface.finish()
    return out.getvalue()


def matplotlib_file(lines):

    figure = plt.figure(figsize=(PAGE[0] / 25.4, PAGE[1] / 25.4))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set_xlim(0, PAGE[0])
    axes.set_ylim(PAGE[1], 0)
    axes.axis("off")
    for line in lines:
        points, codes = [(line[0][0].real, line[0][0].imag)], [Path.MOVETO]
        for curve in line:
            points += [(p.real, p.imag) for p in curve[1:]]
            codes += [Path.LINETO] if len(curve) == 2 else [Path.CURVE4] * 3
        points.append(points[0])
        codes.append(Path.CLOSEPOLY)
        axes.add_patch(patches.PathPatch(Path(points, codes), fill=False, lw=1))
    out = io.BytesIO()
    figure.savefig(out, format="svg")
    plt.close(figure)
    return out.getvalue()


def reportlab_file(lines):

    drawing = Drawing(PAGE[0] * PT, PAGE[1] * PT)
    for line in lines:
        path = Drawn(fillColor=None, strokeWidth=1)

        def flat(points):
            return [x for p in points for x in (p.real * PT, (PAGE[1] - p.imag) * PT)]

        path.moveTo(*flat(line[0][:1]))
        for curve in line:
            (path.lineTo if len(curve) == 2 else path.curveTo)(*flat(curve[1:]))
        path.closePath()
        drawing.add(path)
    return renderSVG.drawToString(drawing).encode()


def layered_file(lines):
    """As an editor with layers writes it: px, a viewBox in mm, a moved layer, relative paths."""
    paths = "\n".join(
        f'<path style="fill:none;stroke:#000000;stroke-width:0.264583" id="path{8000 + n}" '
        f'd="{_relative(line)}" />'
        for n, line in enumerate(lines)
    )
    return f"""<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<svg width="{PAGE[0]}mm" height="{PAGE[1]}mm" viewBox="0 0 {PAGE[0]} {PAGE[1]}" version="1.1"
 id="svg5" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
 xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
 xmlns="http://www.w3.org/2000/svg" xmlns:svg="http://www.w3.org/2000/svg">
<sodipodi:namedview id="namedview7" pagecolor="#ffffff" showgrid="false" />
<defs id="defs2" />
<g inkscape:label="Layer 1" inkscape:groupmode="layer" id="layer1"
 transform="translate(-20.5,-30.25)"><g id="g12" transform="translate(20.5,30.25)">
{paths}</g></g></svg>""".encode()


def classed_file(lines):
    """As an editor with style sheets writes it: px at 72 to the inch with its viewBox, in pt."""
    paths = "".join(f'<path class="cls-1" d="{path_data(n, PT, 5)}"/>' for n in lines)
    return f"""<?xml version="1.0" encoding="UTF-8"?>
<svg id="Layer_1" data-name="Layer 1" xmlns="http://www.w3.org/2000/svg"
 width="{PAGE[0] * PT:.6f}pt" height="{PAGE[1] * PT:.6f}pt"
 viewBox="0 0 {PAGE[0] * PT:.6f} {PAGE[1] * PT:.6f}"><defs>
<style>.cls-1 {{ fill: none; stroke: #1d1d1b; stroke-miterlimit: 10; }}</style></defs>
{paths}</svg>""".encode()


def used_file(lines):
    """As an editor with symbols writes it: shapes in the definitions, put in place by `use`."""
    shapes = "".join(
        f'<symbol id="s{n}"><path d="{path_data([[p - 300 for p in c] for c in line], MM)}" '
        'fill="none" stroke="#000"/></symbol>'
        for n, line in enumerate(lines)
    )
    uses = "".join(f'<use xlink:href="#s{n}" x="{300 * MM:.9f}"/>' for n in range(len(lines)))
    return f"""<svg xmlns="http://www.w3.org/2000/svg"
 xmlns:xlink="http://www.w3.org/1999/xlink" width="{PAGE[0] * MM}" height="{PAGE[1] * MM}">
<defs>{shapes}</defs><g>{uses}</g></svg>""".encode()


def _relative(line):
    said, at = [f"m {line[0][0].real:.6f},{line[0][0].imag:.6f}"], line[0][0]
    # As it is drawn: each step from where the rounded ones before it have come to.
    at = complex(round(at.real, 6), round(at.imag, 6))
    for curve in line:
        steps = [p - at for p in curve[1:]]
        said.append(
            ("l " if len(curve) == 2 else "c ")
            + " ".join(f"{p.real:.6f},{p.imag:.6f}" for p in steps)
        )
        at += complex(round(steps[-1].real, 6), round(steps[-1].imag, 6))
    return " ".join(said) + " z"


WRITERS = {
    "svgwrite": svgwrite_file,
    "drawsvg": drawsvg_file,
    "cairo": cairo_file,
    "matplotlib": matplotlib_file,
    "reportlab": reportlab_file,
    "layers": layered_file,
    "style sheet": classed_file,
    "symbols": used_file,
}
