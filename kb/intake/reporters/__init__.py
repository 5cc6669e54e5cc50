"""Printing findings, one file for each format; each is a pure function from findings to text.

``text`` for people, ``json`` for programs, ``sarif`` for code scanning, ``github`` for annotations in a workflow.
Each takes the findings in their order, the ``folder`` to print before each file name (such as ``specs/``), and the
number of files checked. ``plain`` prints them when one of these has failed.

Files import downward in this order: plain, wording, github, json, sarif, text.
"""
