"""What is left of a sock once fabric, length or fit is not what was assumed: the ways to go on, and their price."""
