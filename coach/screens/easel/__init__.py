"""The Easel screen: what to paint now, on which canvas."""
