"""What the ways to go on are made of: the sock in progress, a tube that goes on or changes, and ripping back."""
