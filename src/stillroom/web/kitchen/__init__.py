"""The household and its kitchen: place, people and hours, canners, jars, what stands in the pantry."""
