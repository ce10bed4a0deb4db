"""Text heights, and drawings as PDF and SVG. Typst is behind it, and nobody else knows that."""
