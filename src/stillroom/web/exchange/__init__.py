"""Between the database and a household folder: import, export, and the folder that the planner takes."""
