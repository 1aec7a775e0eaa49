"""Pace, working calendar, drying, and the day of delivery."""
