"""What a journey's calendar books: flights and other ways, lodgings, visits."""
