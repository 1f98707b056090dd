"""Frozen dataclasses that a computation takes or returns; import them from their own files."""
