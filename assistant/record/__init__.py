"""What is kept of a call: the log and the pages made from it."""
