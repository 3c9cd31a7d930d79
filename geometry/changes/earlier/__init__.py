"""Earlier versions of kinds: they keep answering for the steps that were made with them."""
