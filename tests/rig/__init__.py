"""A parallel rack as physics has it, with one fault or two, its meters, and a technician who answers from it."""
