"""A folder of pictures becomes Photo records; print derivatives are made from them."""
