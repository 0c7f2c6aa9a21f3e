"""What comes in, and whose it is."""
