"""Any edge and any seam: drawn by hand, its allowance, what it may hold."""
