"""The calculation on the phone itself, for times without network: the same modules, in a Python made for browsers.

`runtime` fetches that Python, once for a server; `code` packs the modules that run on it; `answer` is what they are
asked there. A phone has none of it unless its knitter wants it.
"""
