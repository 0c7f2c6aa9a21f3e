"""The commands, as an instructor calls them."""
