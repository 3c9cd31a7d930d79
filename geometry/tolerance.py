"""Every tolerance of the house, in millimetres unless said otherwise, each with its reason."""

SAME_POINT = 1e-6
"""Two points closer than this are one point: far below a pencil line, far above rounding noise."""

LENGTH_ERROR = 1e-8
"""Largest error of one curve's arc length; a chain of a hundred curves stays within 1e-6."""

SAME_LENGTH = 1e-6
"""Lengths that differ by less are one: so far the errors of a hundred curves may add up."""

FINGERPRINT_GRID = 1e-5
"""Coordinates are rounded to this grid before they are fingerprinted."""

SHAPE_GRID = 1e-3
"""Two lines have the same shape when their points agree on this grid: far above the noise of many
turns about an apex, far below what scissors can cut."""

DRAWN_ALIKE = 0.005
"""Lines closer than this everywhere are drawn alike: less than what is said of a length."""

OUTLINE_GRID = 1e-3
"""Cloth that was cut back is outlined on this grid, so that its outline, as it is written, crosses
itself nowhere: far below what scissors can cut."""

FLATTEN = 0.02
"""Largest distance between a curve and the polyline that stands for it in outline tests."""

STRAIGHT = 1e-7
"""A run whose control points stray less than this from its chord is a straight line."""

LEGS_EQUAL = 0.1
"""Dart legs may differ by this: nought in a draft, a pencil's width on paper."""

SMOOTH_JOIN_DEGREES = 4.0
"""Lines that meet across a seam or a closed dart may turn by this and still sew flat."""

SEAM = 1.6
"""Two seam lines that should match may differ by this: 1/16 in, what an expert works to."""

MEASURE_SAME = 0.5
"""A correction counts as carried when the child's change is within this of the wanted change."""

MEASURE_SAME_SHARE = 0.02
"""... or within this share of the wanted change, whichever is the larger."""

UNCHANGED = 0.05
"""A measure that moved by less than this did not move."""

WORSE = 0.1
"""A finding has become worse when its excess grew by more than this."""

WORSE_DEGREES = 1.0
"""... and a kink when it turned by this many degrees more."""

CAP_EASE = 0.1
"""A refitted sleeve cap meets the wanted ease to this."""

SAME_AREA = 1e-4
"""Two areas of cloth, mm², closer than this are one: a hair's breadth of a thread."""

SAME_DIRECTION = 0.01
"""Lines that turn by less than this, in degrees, run on: far below what any pencil shows."""

SHORTEST_LEFT = 1.0
"""A change that cuts an edge down leaves at least this of it: what is shorter cannot be sewn."""

DRAWN_TOGETHER = 0.1
"""Ends of lines in a drawing made elsewhere that lie closer than this were meant to meet."""

ENOUGH_CLOTH = 0.5
"""Less cloth than this lacking is no lack, less than this to be had is nothing: a chalk line."""

REFIT = 0.002
"""A line may be drawn with fewer curves that stray no further than this: what is drawn alike, with
room for the next redrawing."""

CLOTH_LEFT = 5.0
"""Less cloth than this between two lines is neither cut nor sewn (common practice, no source)."""

CORNER_DEGREES = 12.0
"""A line that turns by more than this at a point has a corner there, and is meant to."""

WAVE = 0.5
"""A line may bend back by as little as this: what stands out less is lost in the seam."""

TIGHTEST_RADIUS = 15.0
"""What bends more tightly than this is neither cut nor sewn well (from memory, no source)."""

UNEVEN = 2.0
"""mm by which a step from size to size may differ from the usual one: half the closest step of a
girth that size tables have is four times as much, and nested lines show less."""
