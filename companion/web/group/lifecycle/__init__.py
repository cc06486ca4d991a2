"""What becomes of a design: its group ends or goes on, its links are replaced and shared, and it goes into a file."""
