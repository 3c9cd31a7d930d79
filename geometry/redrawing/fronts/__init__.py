"""Draw a front on past its centre."""
