"""What is asked, in which order: data, and the proof that it is safe."""
