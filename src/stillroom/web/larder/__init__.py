"""What is in store."""
