"""One page a moment: before the first stroke of a session, after the session, after the last stroke."""
