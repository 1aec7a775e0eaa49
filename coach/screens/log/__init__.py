"""The Log screen: what was painted, in which order."""
