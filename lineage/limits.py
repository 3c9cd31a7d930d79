"""Every bound on what a wardrobe and its files may hold, each with its reason.

A maker never meets them. What lies beyond is a mistake or a trap: it is refused in one sentence,
before it costs time or memory. The table in `cli/REFERENCE.md` is written from these lines, each
of which reads "so many of what; why".
"""

# --- files a maker reads and writes ---------------------------------------------------------------

LARGEST_RECORD = 1_000_000
"""bytes of the file of a block, a pattern, a garment; a chain of fifty steps has ten thousand."""

LARGEST_DRAWING = 4_000_000
"""bytes of a drawing in SVG; a block of three pieces has thirty thousand."""

MOST_LINES = 30_000
"""lines of a file in TOML; a chain of a thousand steps is a third of it."""

LONGEST_KEY = 40
"""words of a key joined by dots; ours have one."""

LARGEST_FITTING = 1_000_000
"""bytes of a fitting; anything beyond is not a list of corrections."""

LONGEST_TEXT = 20_000
"""characters of a text in such a file; ten pages, where a maker writes a sentence."""

LARGEST_NUMBER = 1e15
"""in size of a number in such a file; beyond it a float tells whole numbers no more apart."""

DEEPEST_TABLE = 30
"""tables inside one another; a conflict that tells why a step cannot be made reaches twelve."""

MOST_STEPS = 300
"""steps of one block or pattern; a maker makes fifty, and each is evaluated anew."""

MOST_PARENTS = 100
"""parents of one pattern; each gives it at least one piece, and no garment has a hundred."""

MOST_JOINED_STYLES = 250
"""patterns that one style comes together from; one counts as often as others are joined of it."""

MOST_SIZES = 24
"""sizes of one run; published tables have a dozen, and no eye tells more nested lines apart."""

LARGEST_TABLE = 1_000_000
"""bytes of a size table; one of so many sizes takes two thousand."""

MOST_PIECES = 200
"""pieces of one block or pattern; a lined coat has forty."""

MOST_SEAMS = 1_000
"""seams, and joins of them, of one block; each of two hundred pieces is sewn along five edges."""

MOST_SETS = 1_000
"""sets of measurements of one body; a fitting a week for twenty years."""

DEEPEST_LINEAGE = 100
"""patterns below one another; each waits for the one above it, and twenty are many."""

# --- drawings -------------------------------------------------------------------------------------

LARGEST_DXF = 8_000_000
"""bytes of a drawing in DXF; the same block takes ten times what it takes in SVG."""

MOST_DXF_LINES = 600_000
"""lines of text of a drawing in DXF; a block of three pieces has thirty thousand."""

MOST_DRAWN = 50_000
"""parts of a drawing in DXF with its blocks laid out; each point of a curve may be one."""

MOST_ELEMENTS = 5_000
"""parts of a drawing; twenty pieces of fifty edges are a fifth of it."""

MOST_POINTS = 50_000
"""points of one path; a sleeve flattened as finely as we cut has a few hundred."""

MOST_FLAT = 200_000
"""points of all paths of a drawing; a block of three pieces has about three thousand."""

MOST_EDGES = 200
"""edges and darts of one piece; a panelled skirt has a tenth of it."""

DEEPEST_USE = 10
"""parts of a drawing used inside one another; an editor writes one or two."""

MOST_MOVES = 100
"""moves in one transform; a drawing program writes one or two."""

FARTHEST = 100_000.0
"""mm from the corner of the page; ten times the largest length a maker may write."""

# --- photos ---------------------------------------------------------------------------------------

LARGEST_PHOTO = 20_000_000
"""bytes of a photo to keep; what a telephone takes is a quarter of it."""

MOST_PIXELS = 50_000_000
"""pixels of a photo to keep; more takes hundreds of megabytes once it is unpacked."""

LONGEST_TAKEN = 30_000
"""pixels along a photo to keep; the longest panorama of a telephone has half."""

LONGEST_SIDE = 2_000
"""pixels along a photo that was kept; a fold of cloth is plain to see, and the file stays small."""

LARGEST_PAGE = 40_000_000
"""bytes of the photos on one page of the book; a hundred photos as they are kept."""

LARGEST_BOOK = 500_000_000
"""bytes of the book; a browser opens no larger page, and a thousand patterns take a tenth of it."""

# --- the versions of a wardrobe -------------------------------------------------------------------

MOST_FILES = 250_000
"""files in one version; ten thousand patterns with drawings and photos are a tenth of it."""

LARGEST_LISTING = 64_000_000
"""bytes of all their names; that many names of the usual length take a third of it."""

LONGEST_PATH = 4_096
"""bytes of the name of a file with its folders; no system in common use holds a longer one."""

LARGEST_FILE = 64_000_000
"""bytes of any other file of a wardrobe; a photo is far smaller."""

LARGEST_READING = 256_000_000
"""bytes read at one go; ten thousand patterns with their geometry are a third of it."""

LARGEST_PACK = 1_000_000_000
"""bytes taken from another clone at one go; ten thousand patterns are a tenth of it."""

LONGEST_MESSAGE = 1_000_000
"""bytes of what a version says of itself; what follows is left out, and a step says a page."""

MOST_MEASURED = 2_000
"""versions measured anew for one answer; in ten years no node and its ancestors change as often."""

MOST_JOINED = 100
"""versions joined by one; git itself joins sixteen at most, and a maker two."""

LARGEST_HISTORY = 256_000_000
"""bytes of what all versions say of themselves; a hundred thousand steps are a quarter of it."""
