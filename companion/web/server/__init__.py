"""What goes with every request, whatever it is for: refusals, headers, limits, files, compression, log, health."""
