"""Words in, words out. Pure."""
