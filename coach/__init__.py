"""A coach in the terminal for matching oil portraits painted from one photograph."""
