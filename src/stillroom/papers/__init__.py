"""What leaves the house: a calendar for the phone, tables for a spreadsheet."""

from stillroom.papers.calendar import calendar_of

__all__ = ["calendar_of"]
