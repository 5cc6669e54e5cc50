"""One file for each way to print findings; each is a pure function from findings to text.

``text`` for people, ``json`` for programs, ``sarif`` for code scanning, ``github`` for annotations in a workflow.
Each takes the findings in their order, the ``folder`` to put before each file (such as ``specs/``), and how many
files were checked.

Files import downward in this order: wording, github, json, sarif, text.
"""
