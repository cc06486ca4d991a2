"""The pages of a pair: plan, rounds, checks and their results, yarn, try-on, sock two, files.

A result is calculated each time that its page is opened, from the logbook alone. Its `basis` names the plan and the
evidence that it was made from, and an option is accepted only while they are the same.
"""
