"""Pictures of corners, in matplotlib alone: no pyplot, no widgets."""
