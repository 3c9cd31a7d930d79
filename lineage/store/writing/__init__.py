"""One step recorded: the lock, the objects, the branch, the files that follow."""
