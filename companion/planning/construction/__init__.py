"""From counts to rounds: the planner, the parts of a sock, and the sizes and verdicts that follow.

`planner.py` runs the builders in `sections/`. A builder is given an aim, the progress so far, and the rounds of its
part that are already knitted, and returns all of its rounds: with nothing knitted that is a plan, with something
knitted a recalculation. There is no second mechanism. What a part or a heel is stands with it, in `Part` and in the
tables of `constructions.py`.
"""
