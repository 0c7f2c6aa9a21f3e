"""The invented plant is one, its numbers can be, and what is said about the work is safe."""
