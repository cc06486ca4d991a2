"""Toes, from the cuff down and from the toe up."""
