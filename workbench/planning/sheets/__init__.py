"""The fewest sheets: models and the search among them."""
