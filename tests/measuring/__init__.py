"""Scripts that measure: speed, large groups, and the requests that cost most. They are no tests."""
