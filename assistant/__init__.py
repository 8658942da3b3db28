"""Rackcall: the spoken diagnosis of a tripped rack compressor."""
