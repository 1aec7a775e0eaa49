"""The Deadline screen: will it be ready in time, and what must change if not?"""
