"""Pure functions of numbers: steam and air, heat in jars, lethality, cooling, freezing, drying, dough, acids."""
