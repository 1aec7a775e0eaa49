"""Plan, order and events into the situation now; a move into the events it records."""
