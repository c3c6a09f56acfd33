"""One file a family of kinds: each reads a field's sheet and gives drafts of claims."""
