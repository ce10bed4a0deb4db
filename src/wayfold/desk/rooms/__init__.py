"""The routes of the desk's rooms, a module each: thin over ``app.rooms``."""
