"""How a call goes. Pure: no file, clock or sound is touched here."""
