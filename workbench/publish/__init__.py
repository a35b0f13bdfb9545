"""The printed recipe: its data, and the pages, texts and pictures made of it."""
