"""The one pipeline: arrivals -> split -> processes -> timetable."""
