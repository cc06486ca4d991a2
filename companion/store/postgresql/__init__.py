"""The same store in a PostgreSQL database, for several processes, or computers, that serve one large group of groups.

Needs the extra `postgresql`. Each process has a few connections, which are looked at before they are used: when the
database server ends, requests are refused within a second or so, and served again soon after it is back. Nothing is
acknowledged before it is committed, and commits are never asynchronous.

A deleted row is answered to nobody from then on. Its bytes stay in the database's files until PostgreSQL's own vacuum
makes room there, and in archives of its write-ahead log and in dumps for as long as those are kept.
"""
