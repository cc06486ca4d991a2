"""What a pair is and what follows from its logbook. Pure: no Flask, no SQL, no clock.

The logbook is the only truth about counting. Entries are merged by identity and ordered by (clock, device, id); a
sock's place is the `round` of its last move (`count`, `undo`, `go`). Each move names in `after` the moves that it goes
on from; those that none goes on from are the ends. A device stays at its own place while that is one of the ends; where
the ends differ the page asks, and the answer is a `go` that comes after all of them. Remarks (`note`, `try-on`,
`check`, `weighing`, `length`) move nothing and carry what they say in `data`, whose shapes are in `remarks.py`. A
`withdrawal` names an earlier remark, which loses its `data`; its name and place remain, so that it is known when it is
sent again.

An accepted plan is a revision (`revisions.py`). Sock two follows what sock one became until it is itself knitted past
the place of a change.

`PairState` (`state.py`) has the revisions and the logbook together, and whatever follows from both takes one: what is
known of the gauge, what checks and try-ons mean, how far the yarn reaches. It comes from the store or from an
exported pair (`file.py`). Nothing here may know the web or the store (`tests/pair/test_purity.py`).
"""
