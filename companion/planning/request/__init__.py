"""What a knitter asks for: the plan request, its ribbing, and ranges of sizes as they are typed.

Lengths in cm, gauge over 10 cm, ease in percent. Everything is validated here, once; what is wrong comes back as
faults with the entry, what was given, and what is allowed.
"""
