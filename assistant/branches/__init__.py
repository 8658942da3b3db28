"""What is asked and what it means, one folder a protection."""
