"""From giving out to the marks, with hand-ins good, bad and hostile."""
