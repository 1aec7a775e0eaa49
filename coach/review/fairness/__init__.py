"""Were the canvases treated alike? Figures and sentences from the runs that were painted."""
