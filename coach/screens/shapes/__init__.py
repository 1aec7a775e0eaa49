"""The Shapes screen: where in the photo each passage lies, how light, how large, and what it touches."""
