"""Publications: what is made of a book for people and programs, one file each."""
