"""Edits by hand: from which version a file was edited, joined with what was recorded since.

A maker writes into the files of a wardrobe with any editor, and an editor that was open while a
step was recorded does not know of that step. `opened_from.py` finds the version it had before it,
`joined.py` joins its text with what was recorded since, `cut_cloth.py` asks after what is a fact,
`looking.py` puts these together for whoever reads, and `taking_up.py` records them as a step.
"""
