"""What is heard and spoken as sound."""
