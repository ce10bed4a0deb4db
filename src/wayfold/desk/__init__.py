"""The desk in the browser, a thin skin over app."""
