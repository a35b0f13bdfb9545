"""Trimtally: a terminal workbench for handmade cards made in batches."""
