"""The photo taken apart into shapes: outlines, values, edges, neighbours."""
