"""What readings mean. Pure."""
