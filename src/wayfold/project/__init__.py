"""The person's decisions on disk: TOML and Markdown, and the cache beside them."""
