"""Package, here only so that the gates can run."""
