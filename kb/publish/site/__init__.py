"""The site: what is made of a book for a phone."""
