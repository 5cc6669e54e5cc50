"""The site, made from a book for a phone.

Files import downward in this order: atomic_folder, columns, family, foot, icon, finding, frame, bench, chapters,
coverage, job_page, offline, published_schemas, reading, routines, serving, sitemap, build.
"""
