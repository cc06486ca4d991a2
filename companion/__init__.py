"""Tapeline: an in-progress companion for knitting socks."""
