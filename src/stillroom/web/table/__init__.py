"""The meals: what is on the table and when, what was eaten, what the larder would feed."""
