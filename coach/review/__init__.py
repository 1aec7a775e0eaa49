"""Tables and documents made from the journal's events."""
