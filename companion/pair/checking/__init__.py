"""What a gauge check means: those that were made, on which fabric, and the page of their result."""
