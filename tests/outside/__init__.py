"""The planning held against what others have published. Each check names its source beside it.

"Computed" is said where a published rule was carried on by arithmetic; a fact of the trade that everybody tells
alike is "common practice".
"""
