"""The bench sheet: the order of work filled in for one engine, as a page to print, a PDF, Markdown and JSON.

Files import downward in this order: record, address, cited, given, wording, targets, blanks, steps, making, document,
markdown, html, pdf.
"""
