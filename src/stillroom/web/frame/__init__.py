"""What every page shares: the base template, the look, form tokens, undo, errors in one sentence."""
