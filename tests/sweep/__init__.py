"""Every demo drill as it would be run on many evenings, held against itself: words, picture and kit must agree."""
