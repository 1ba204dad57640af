"""The words of screens, paper and API: which may be said, and that each page's own terms are explained."""
