"""What the heat model says of a jar or a pot: only ever a caution, never a process."""
