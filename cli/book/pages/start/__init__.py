"""The start of a book: what needs attention, and the graph under the correction it shows."""
