"""What can I press now: the page behind `?`."""
