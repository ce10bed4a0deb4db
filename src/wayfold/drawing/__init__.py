"""The waist: a frozen Drawing in millimetres; layout ends in it, print and screen start from it."""
