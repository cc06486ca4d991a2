"""The parts of heels, and the gusset that belongs to them."""
