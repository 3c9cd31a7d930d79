"""From records to drafts: steps become changes, nodes are evaluated, answers are kept."""
