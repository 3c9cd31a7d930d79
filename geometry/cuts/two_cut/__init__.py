"""A piece cut along two lines at once: a sleeve in its upper and its under sleeve."""
