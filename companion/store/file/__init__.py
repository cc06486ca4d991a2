"""The SQLite file itself: opening it, who has it in use, keeping it private, and whole copies of it.

Files of ours are recognised by their application id, apart from those of other programs and from damaged ones. When
the file is deleted, moved or replaced while it is open, nothing is written any more, what it had is saved in a file
beside it, and phones keep their counts. A backup has no epoch, so that the server makes another one whenever it starts
from a backup, in whatever way it was put there.
"""
