"""From what is seen on a worn garment to the correction that may mend it."""
