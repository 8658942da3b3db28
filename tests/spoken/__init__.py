"""Whole calls by sound: a technician who speaks, a noisy room, the product's ears, a rack with physics of its own."""
