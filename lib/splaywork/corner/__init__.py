"""One corner: its numbers, words, pictures and panels."""
