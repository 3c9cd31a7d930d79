"""Draw a sleeve and its cap anew."""
