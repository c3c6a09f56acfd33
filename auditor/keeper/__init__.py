"""The keeper's bench: commands for those who keep tables (`auditor pack new`, `check`, `table`, `fit`)."""
