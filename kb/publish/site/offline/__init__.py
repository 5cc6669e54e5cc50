"""What a phone keeps: the pack of all families, the scripts, and the worker that answers without a network.

Files import downward in this order: bundle, pack, phone_copy.
"""
