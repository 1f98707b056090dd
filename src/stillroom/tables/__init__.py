"""Published numbers with their source and evidence; food names and their synonyms."""
