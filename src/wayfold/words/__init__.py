"""The book's words in its style: Markdown, captions, titles and contents become paragraphs."""
