"""Hours, blocks and rests: what is due and what is over."""
