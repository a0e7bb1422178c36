"""Cases of whole folders: notes, shop settings, letters, plugins."""
