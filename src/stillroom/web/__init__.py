"""The pages: Django settings, the frame around every page, and one app for each place of the kitchen."""
