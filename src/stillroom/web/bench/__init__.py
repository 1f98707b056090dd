"""The work bench: process cards, the sums, and recipes of ours and of the household."""
