"""The proof: folds the print file's rendered sheets back into pages and compares them.

Knows nothing of how sheets are imposed. It takes the print file, a description of the paper and
of the folding, and the pages in reading order; everything else follows from paper and a fold.
"""
