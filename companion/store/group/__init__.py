"""What is kept of designs and of the groups that follow them."""
