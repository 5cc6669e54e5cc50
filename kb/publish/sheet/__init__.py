"""The bench sheet: the order of work filled in for one engine, as a page to print, a PDF, Markdown and JSON; on
one leaf or, long, with every step whole.

Files import downward in this order: record, address, cited, given, wording, targets, blanks, steps, making, leaf,
document, markdown_words, markdown_leaf, markdown_long, markdown, html, pdf.
"""
