"""Where words come from and go to."""
