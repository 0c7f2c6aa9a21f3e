"""What people read afterwards."""
