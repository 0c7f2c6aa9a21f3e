"""Practice questions on the valve itself: what it is made of and which one to pick."""
