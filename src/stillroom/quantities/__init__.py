"""Kitchen sums: amounts, scaling, yields, portions, dough, cures, brines, syrups, acids."""
