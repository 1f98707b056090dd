"""Tasks, people and equipment -> start times (CP-SAT)."""
