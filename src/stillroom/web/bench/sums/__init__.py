"""The sums of the bench: each a small form and its answer."""
