"""Join the work of two makers: changes are merged by their ids, never coordinates.

`states.py` merges two states over their common one, purely; `looking_over.py` evaluates what came
of it against each side; `joining.py` reads the versions from the store and says what to write.
"""
