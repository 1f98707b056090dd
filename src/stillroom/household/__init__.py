"""Reads and writes a household folder."""
