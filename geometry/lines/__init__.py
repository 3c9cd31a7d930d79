"""Points, curves and lines, and the numerical methods they are measured and divided by."""
