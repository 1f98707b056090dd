"""Which part of an arrival becomes what, on which day (MIP)."""
