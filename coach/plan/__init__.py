"""The commission and its plan as frozen data, and reading text into it."""
