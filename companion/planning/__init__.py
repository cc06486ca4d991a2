"""The planning core: pure functions from a request to every round of a sock and the words for it.

Knows no Flask, no files, no clock. Data flows one way: request -> fit -> counts -> sections -> rounds -> words.
"""
