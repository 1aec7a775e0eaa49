"""The Textual app: what is shown and asked."""
