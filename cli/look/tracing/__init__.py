"""A drawing that becomes a block on the live page: what its lines are is named by pointing."""
