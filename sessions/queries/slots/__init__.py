"""Weekly slots: which there are, on which days they are empty, and who else lies on them."""
