"""What holds the project together: layout, sources, package, README, the author's commands."""
