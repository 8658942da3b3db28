"""Calls that try to break the rules of safety, one rule a test, as a night call would: odd words, odd orders, interruptions.

They speak to the published pipe and judge by what is said, asked, recorded and left open; a failure says what was asked instead.
"""
