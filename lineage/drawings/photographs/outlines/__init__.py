"""What lies on the table: its pieces, where exactly their edges run, and fair lines along them."""
