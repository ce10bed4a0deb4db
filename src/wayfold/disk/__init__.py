"""Files that take their places whole or not at all, and what a disk refuses, in words."""
