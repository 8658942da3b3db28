"""Microphone, speaker, recogniser, voice: the rooms that touch the machine."""
