"""How lines are drawn anew: a corner moved, a hem, darts, a sleeve."""
