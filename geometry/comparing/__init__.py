"""Two drafts laid on one another, and how far their lines lie apart."""
