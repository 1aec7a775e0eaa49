"""A first plan, proposed from what a painter says about a new commission."""
