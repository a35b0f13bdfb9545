"""What a finished plan means at the table."""
