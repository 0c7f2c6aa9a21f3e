"""The class list, and everything foreign that is read or shown: used or refused with a sentence, never obeyed."""
