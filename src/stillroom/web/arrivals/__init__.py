"""Food that came in or is expected, and its clock."""
