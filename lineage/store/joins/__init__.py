"""What joins two versions: another clone read, a merge git left half done, texts line by line."""
