"""Steps carried out for the verbs that write: previewed or recorded, and told."""
