"""The Composition screen: heads and parts to keep marked in the photo, and the canvases that suit them."""
