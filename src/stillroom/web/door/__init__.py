"""Who may come in when the pages are open to the other devices of the house."""
