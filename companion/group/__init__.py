"""What follows from a design for its group: stages, what is hidden, what is new. Pure: no Flask, no SQL, no clock."""
