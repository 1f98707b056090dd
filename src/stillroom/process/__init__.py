"""Food + form + pack + jar + canner + altitude -> process card or refusal."""
