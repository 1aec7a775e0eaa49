"""The hours of the body as the Log tells them: what was kept, what was answered, and who had the tired hours."""
