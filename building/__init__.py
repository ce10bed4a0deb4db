"""What the build hook does: packages' fonts, flags and places, and the desk's front end."""
