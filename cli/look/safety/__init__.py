"""What lets nothing in but the pages that `look` itself gave a token, however much comes."""
