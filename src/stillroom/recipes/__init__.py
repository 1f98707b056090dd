"""Our own recipes and their reader."""
