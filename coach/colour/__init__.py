"""Colour as light, as Lab, as the painter's value, and in words."""
