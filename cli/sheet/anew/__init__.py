"""Which pages of a sheet are printed anew after a step, and those alone."""
