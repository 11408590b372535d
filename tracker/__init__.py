"""A terminal companion for people who crochet by hand from a written pattern."""
