"""The parts of a sock. Each builder carries on from what is already knitted, which may be nothing."""
