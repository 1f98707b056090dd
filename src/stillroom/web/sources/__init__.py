"""The published tables behind every answer, row by row with source and evidence."""
