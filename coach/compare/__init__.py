"""Whether the canvases agree: two photos of both, taken with their places exchanged, read shape by shape."""
