"""Who leads: strategies, measures of balance, and mending after a deviation."""
