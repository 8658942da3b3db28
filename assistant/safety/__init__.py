"""The rules of safety in our own words, and the monitor that watches a call for them from outside."""
