"""Git, run so that nothing of a stranger's runs: what it has stored, and what its failures mean."""
