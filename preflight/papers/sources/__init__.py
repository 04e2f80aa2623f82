"""A word processor's file held against the papers that were made from it."""
