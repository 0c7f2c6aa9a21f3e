"""What goes out: dealt to each badge, without a key in it, whole or not at all; and that marks stand on what went out."""
