"""What the seller answers and what the buyer notes: read as the listing is, tied to the questions, set against it."""
