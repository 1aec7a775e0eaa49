"""The events: their kinds, versions, and how older ones are read."""
