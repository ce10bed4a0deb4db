"""What the desk's rooms show and do, a module each: views as plain values, and no web."""
