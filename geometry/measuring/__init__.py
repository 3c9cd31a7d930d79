"""What is read off a draft: lengths, widths, ease, seams walked, and what does not fit."""
