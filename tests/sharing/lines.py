"""Run lines of Python, as `python -c` does: the first word is the lines, the others are theirs."""

import sys

if __name__ == "__main__":
    _, lines, *words = sys.argv
    sys.argv = ["-c", *words]
    exec(compile(lines, "<lines>", "exec"), {"__name__": "__main__"})
