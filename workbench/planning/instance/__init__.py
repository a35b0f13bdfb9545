"""What is asked of the paper, in whole numbers."""
