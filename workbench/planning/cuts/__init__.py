"""The cuts that a layout takes, their marks and their order."""
