"""Pages, paper and printer become the two sides of every sheet."""
