"""The chooser: which commission, how far it is, and whether its day holds."""
