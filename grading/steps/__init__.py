"""What each of the instructor's commands does: one function a command. What one needs is loaded when it runs."""
