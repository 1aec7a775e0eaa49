"""Who leads on each run, and how even that is."""
