"""Stillroom: from lumps of incoming food to safe jars, freezer packs, bread and dinner."""
