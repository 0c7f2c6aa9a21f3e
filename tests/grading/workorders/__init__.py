"""The graded questions and an instructor's own: nobody earns points without knowing."""
