"""Statistics of paired and crossed-over times, each with its published source."""
