"""From a foot to sizes: what was not measured, what the finished sock should measure, and the stitch counts near it."""
