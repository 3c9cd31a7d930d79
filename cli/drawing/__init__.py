"""Pictures of drafts."""
